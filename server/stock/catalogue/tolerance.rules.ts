/** How far a part may lie from its marked value. `below` and `above` are in percent, or in picofarads. */
export interface Tolerance {
  below: number
  above: number
  in: '%' | 'pF'
  words: string
}

/** IEC 60062 letters for symmetrical tolerances in percent. */
const PERCENT: Record<string, number> = {
  E: 0.005,
  L: 0.01,
  P: 0.02,
  W: 0.05,
  B: 0.1,
  C: 0.25,
  D: 0.5,
  F: 1,
  G: 2,
  H: 3,
  J: 5,
  K: 10,
  M: 20,
  N: 30,
}

/** IEC 60062 letters for lopsided tolerances in percent, below and above. */
const LOPSIDED: Record<string, [below: number, above: number]> = { Q: [10, 30], T: [10, 50], S: [20, 50], Z: [20, 80] }

/** On capacitors below 10 pF the same letters mean picofarads (IEC 60062). */
const PICOFARADS: Record<string, number> = { B: 0.1, C: 0.25, D: 0.5, F: 1, G: 2 }

/** Reads a tolerance letter, or one written out (5 %, ±0.25 pF, −20/+80 %); `small` is a capacitor below 10 pF. */
export function readTolerance(letter: string | undefined, written: string | undefined, small: boolean): Tolerance | undefined {
  if (written !== undefined) return readWritten(written)
  if (letter === undefined) return undefined
  const picofarads = PICOFARADS[letter]
  if (small && picofarads !== undefined) return symmetrical(picofarads, 'pF')
  const lopsided = LOPSIDED[letter]
  if (lopsided) return lopsidedBy(lopsided[0], lopsided[1])
  const amount = PERCENT[letter]
  return amount === undefined ? undefined : symmetrical(amount, '%')
}

function readWritten(written: string): Tolerance {
  const [first = 0, second = 0] = [...written.matchAll(/\d+(?:\.\d+)?/g)].map(([figure]) => Number(figure))
  if (written.includes('/+') && !written.startsWith('+')) return lopsidedBy(first, second)
  return symmetrical(first, written.endsWith('F') ? 'pF' : '%')
}

const lopsidedBy = (below: number, above: number): Tolerance => ({ below, above, in: '%', words: `−${below}/+${above} %` })

const symmetrical = (amount: number, unit: '%' | 'pF'): Tolerance => ({
  below: amount,
  above: amount,
  in: unit,
  words: `±${amount} ${unit}`,
})
