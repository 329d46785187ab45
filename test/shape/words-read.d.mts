interface ReadText {
  file: string
  line: number
  /** What is filled in stands as an ellipsis. */
  text: string
}
export function wordsIn(file: string, source: string): ReadText[]
export function wordsRead(): ReadText[]
