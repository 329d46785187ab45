import { type Entry, readEntry } from './entry.rules'

const MOST_REPEATS = 10

/** "8.02; 8.03; 8.01": up to ten readings of the same, whose mean is judged. Null where there is one. */
export function readSeveral(
  text: string,
  unit: string,
): ({ ok: true; entry: Entry; figures: number[] } | { ok: false; words: string }) | null {
  const pieces = text.split(';').map((piece) => piece.trim())
  if (pieces.length < 2) return null
  if (pieces.length > MOST_REPEATS) return { ok: false, words: `Write at most ${MOST_REPEATS} readings, with semicolons between.` }
  const entries: Entry[] = []
  for (const piece of pieces) {
    const answer = readEntry(piece, unit)
    if (!answer.ok) return answer
    entries.push(answer.entry)
  }
  const figures = entries.map(({ value }) => value)
  const mean = figures.reduce((sum, one) => sum + one, 0) / figures.length
  const spread = Math.sqrt(figures.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (figures.length - 1))
  const resolution = Math.max(...entries.map((one) => one.resolution))
  const decimals = Math.min(12, Math.max(0, -Math.round(Math.log10(resolution)) + 1))
  const value = Number(mean.toFixed(decimals))
  const shown = `${value.toFixed(decimals).replace('-', '−')} ${unit}`.trim()
  return {
    ok: true,
    figures,
    entry: { value, resolution, shown: `${shown}, mean of ${figures.length}, spread ${Number(spread.toPrecision(2))}` },
  }
}

/** What is typed, as far as its doubt goes: the figure or the mean of several, with each of them; null while it cannot be read. */
export function readFigures(text: string, unit: string): { value: number; resolution: number; repeats?: readonly number[] } | null {
  const several = readSeveral(text, unit)
  if (several) return several.ok ? { ...several.entry, repeats: several.figures } : null
  const answer = readEntry(text, unit)
  return answer.ok ? answer.entry : null
}
