/** "lot 3", "lots 3, 5 and 9". */
export function lotsInWords(lots: readonly number[]): string {
  if (lots.length < 2) return `lot ${lots[0] ?? ''}`
  return `lots ${lots.slice(0, -1).join(', ')} and ${lots.at(-1)}`
}
