/** Where services get chance from: random bytes and fresh identifiers. Tests give a seeded one. */
export interface Dice {
  bytes(count: number): Uint8Array
  id(): string
}
