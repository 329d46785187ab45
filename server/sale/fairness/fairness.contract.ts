/** Something that deserves a look, with the evidence; nothing is ever done about it but by people. */
export interface Pattern {
  kind: 'address' | 'device' | 'retractions' | 'pushing' | 'connected'
  /** Paddle and name of everybody it is about. */
  people: { paddle: number | null; name: string }[]
  words: string
  evidence: { lot: number; words: string }[]
}
