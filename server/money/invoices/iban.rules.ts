import { mod97 } from '#kernel/mod97'

/** An account number as ISO 13616 writes it: two letters, two check digits, up to thirty characters; ISO/IEC 7064 MOD 97-10. */
export const bareIban = (text: string): string => text.normalize('NFKC').replaceAll(/[\s-]/g, '').toUpperCase()

export function isGoodIban(text: string): boolean {
  const bare = bareIban(text)
  if (!/^[A-Z]{2}\d{2}[0-9A-Z]{11,30}$/.test(bare)) return false
  return mod97(bare.slice(4) + bare.slice(0, 4)) === 1
}

/** "GB82 WEST 1234 5698 7654 32". */
export const showIban = (iban: string): string => iban.replaceAll(/(.{4})(?=.)/g, '$1 ')

/** ISO 9362: four letters, a country, two characters, and three more for a branch. */
export const isGoodBic = (text: string): boolean => /^[A-Z]{4}[A-Z]{2}[0-9A-Z]{2}([0-9A-Z]{3})?$/.test(text)
