export interface Pin {
  mark: string
  /** Thousandths from the upper left. */
  x: number
  y: number
}

export interface LookedFor {
  suspects: readonly string[]
  points: readonly string[]
  next: string | null
}

export interface LookedPin extends Pin {
  tone: 'part' | 'suspect' | 'point' | 'next'
}

const same = (one: string, other: string) => one.toUpperCase() === other.toUpperCase()

/** "U2 pin 8" is pinned itself, or is where U2 is pinned. */
const isAt = (mark: string, point: string) => same(mark, point) || same(mark, point.split(/[\s.,:]/)[0] ?? '')

/** What is looked for among pins; what lies on top comes last. */
export function lookedPins(pins: readonly Pin[], { suspects, points, next }: LookedFor): LookedPin[] {
  const own = new Set(pins.map(({ mark }) => mark.toUpperCase()))
  // Where the point has a pin of its own, that of its part is not meant.
  const meant = (mark: string, point: string) => (own.has(point.toUpperCase()) ? same(mark, point) : isAt(mark, point))
  const toneOf = ({ mark }: Pin): LookedPin['tone'] => {
    if (next !== null && meant(mark, next)) return 'next'
    if (points.some((point) => meant(mark, point))) return 'point'
    return suspects.some((one) => same(mark, one)) ? 'suspect' : 'part'
  }
  const weight = { part: 0, suspect: 1, point: 2, next: 3 }
  return pins.map((pin) => ({ ...pin, tone: toneOf(pin) })).sort((a, b) => weight[a.tone] - weight[b.tone])
}

/** "upper left", "middle centre": the same for somebody who cannot see it. */
export const sayPlace = ({ x, y }: Pick<Pin, 'x' | 'y'>): string =>
  `${y < 333 ? 'upper' : y > 667 ? 'lower' : 'middle'} ${x < 333 ? 'left' : x > 667 ? 'right' : 'centre'}`

export function sayPins(words: string, pins: readonly LookedPin[]): string {
  const looked = pins.filter(({ tone }) => tone !== 'part')
  const said = (looked.length > 0 ? looked : pins).map((pin) => `${pin.mark} ${pin.tone === 'next' ? '(probe next) ' : ''}${sayPlace(pin)}`)
  return `Photograph of the board${words && `, ${words}`}. ${said.length > 0 ? `${said.join('; ')}.` : 'Nothing is pinned on it yet.'}`
}

/** Where a press on a picture was, in thousandths. */
export const placeIn = (
  { clientX, clientY }: { clientX: number; clientY: number },
  { left, top, width, height }: { left: number; top: number; width: number; height: number },
): Pick<Pin, 'x' | 'y'> => ({ x: thousandth(clientX - left, width), y: thousandth(clientY - top, height) })

const thousandth = (at: number, of: number) => Math.min(1000, Math.max(0, Math.round((1000 * at) / Math.max(1, of))))
