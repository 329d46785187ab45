import { invariant } from '#kernel/invariant'

/** No letters or digits that are taken for one another when read aloud. */
const DIGITS = '23456789'
const LETTERS = 'CDFGHJKLMNPQRTVWXY'

/** An alias such as "4K" out of random bytes, none of those already taken on this lot; longer when the short ones run out. */
export function aliasFrom(random: Uint8Array, taken: ReadonlySet<string>): string {
  let alias = ''
  for (let index = 0; index + 1 < random.length; index += 2) {
    const pair = `${DIGITS[(random[index] ?? 0) % DIGITS.length]}${LETTERS[(random[index + 1] ?? 0) % LETTERS.length]}`
    if (!taken.has(pair)) return pair
    alias += pair
  }
  invariant(!taken.has(alias), 'long random aliases do not repeat')
  return alias
}
