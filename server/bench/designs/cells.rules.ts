/** "B3 B4", "B3, B4", "B3;B4": keys apart by blanks, commas or semicolons. */
export const keysIn = (cell: string) =>
  cell
    .normalize('NFKC')
    .split(/[\s,;]+/)
    .filter((one) => one !== '')

/** Names that may hold blanks are apart by semicolons. */
export const namesIn = (cell: string) =>
  cell
    .split(';')
    .map((one) => one.trim().replaceAll(/\s+/g, ' '))
    .filter((one) => one !== '')

/** y, yes, x, 1, the word itself: true. n, no, 0, empty: false. Null for anything else. */
export function flagIn(cell: string, word: string): boolean | null {
  const said = cell.normalize('NFKC').trim().toLowerCase()
  if (['y', 'yes', 'x', '1', 'true', word].includes(said)) return true
  return ['', 'n', 'no', '0', 'false', '-'].includes(said) ? false : null
}
