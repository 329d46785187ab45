import { invariant } from '#kernel/invariant'

/** No letters or digits that are taken for one another when read aloud. */
const DIGITS = '23456789'
const LETTERS = 'CDFGHJKLMNPQRTVWXY'

/** An alias such as "4K" out of random bytes, none that is taken on this lot already; longer when the short ones run out. */
export function aliasFrom(random: Uint8Array, isTaken: (alias: string) => boolean): string {
  let alias = ''
  for (let index = 0; index + 1 < random.length; index += 2) {
    const pair = `${DIGITS[(random[index] ?? 0) % DIGITS.length]}${LETTERS[(random[index + 1] ?? 0) % LETTERS.length]}`
    if (!isTaken(pair)) return pair
    alias += pair
  }
  invariant(!isTaken(alias), 'long random aliases do not repeat')
  return alias
}
