import { invariant } from '#kernel/invariant'
import { mod97 } from '#kernel/mod97'

/**
 * ISO 11649:2009 structured creditor reference: "RF", two check digits, up to 21 characters of 0-9 and
 * A-Z. The check digits are ISO/IEC 7064 MOD 97-10 over the body with "RF00" moved behind it.
 */
export function makeCreditorReference(body: string): string {
  const bare = body.toUpperCase()
  invariant(/^[0-9A-Z]{1,21}$/.test(bare), 'a creditor reference has 1 to 21 letters and digits')
  const check = 98 - mod97(`${bare}RF00`)
  return `RF${String(check).padStart(2, '0')}${bare}`
}

/** True for a reference as people copy it: spaces and small letters are no fault. */
export function isGoodCreditorReference(text: string): boolean {
  const bare = text.replaceAll(/\s/g, '').toUpperCase()
  if (!/^RF\d{2}[0-9A-Z]{1,21}$/.test(bare)) return false
  return mod97(bare.slice(4) + bare.slice(0, 4)) === 1
}

/** "RF18 5390 0754 7034": groups of four, as it is printed on paper. */
export const showCreditorReference = (reference: string): string => reference.replaceAll(/(.{4})(?=.)/g, '$1 ')

/** What begins the reference of each contract: four characters of the campaign keep two campaigns on one account apart. */
const campaignPart = (campaignId: string): string => campaignId.replaceAll(/[^0-9A-Za-z]/g, '').slice(0, 4)

/** The reference of one contract about a lot: that of the hammer bears the lot's number alone, each later one says which it is. */
export function contractReference(campaignId: string, lotNumber: number, nth: number): string {
  return makeCreditorReference(`${campaignPart(campaignId)}LOT${lotNumber}${nth > 1 ? `C${nth}` : ''}`)
}

/** The reference of several contracts that are paid together, by the number of their invoice. */
export const jointReference = (campaignId: string, invoiceNumber: number): string =>
  makeCreditorReference(`${campaignPart(campaignId)}INV${invoiceNumber}`)

const MOST_WORDS = 8

/** The first good reference that stands in a text, bare, whatever else is written there; empty where there is none. */
export function referenceWithin(text: string): string {
  const words = text.toUpperCase().split(/[^0-9A-Z]+/)
  for (const [from, word] of words.entries()) {
    if (!word.startsWith('RF')) continue
    for (let to = Math.min(words.length, from + MOST_WORDS); to > from; to -= 1) {
      const written = words.slice(from, to).join('')
      if (isGoodCreditorReference(written)) return written
    }
  }
  return ''
}
