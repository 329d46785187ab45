import { invariant } from './invariant'

/**
 * Check character of ISO/IEC 7064, MOD 37-2: finds each single wrong character and each swap of
 * neighbours. Alphabet 0-9 A-Z, check character also `*`.
 */
const ALPHABET = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*'

export function checkCharacter(body: string): string {
  let sum = 0
  for (const character of body) {
    const value = ALPHABET.indexOf(character)
    invariant(value >= 0 && value < 36, `"${character}" is not in the alphabet of ISO 7064 MOD 37-2`)
    sum = ((sum + value) * 2) % 37
  }
  return ALPHABET.charAt((38 - sum) % 37)
}

/** True when the last character of `code` (hyphens ignored) is the check character of the rest. */
export function hasGoodCheckCharacter(code: string): boolean {
  const bare = code.toUpperCase().replaceAll('-', '')
  if (!/^[0-9A-Z]+[0-9A-Z*]$/.test(bare)) return false
  return checkCharacter(bare.slice(0, -1)) === bare.slice(-1)
}
