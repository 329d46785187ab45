import { countSaid, type HowCounted } from '#stock/donors/count-words.rules'

export interface Count {
  quantity: number
  howCounted: HowCounted
}

const MOST = 1_000_000

/** How many, as a sheet says it: "30", "ca. 30", "30 pcs", "not counted yet". In words what is none of these. */
export function countIn(written: string): Count | { words: string } {
  const { quantity, howCounted } = countSaid(written)
  if (howCounted === 'not yet') return { quantity: 0, howCounted }
  const bare = quantity.replace(/ ?(?:x|×|pcs?\.?|pieces?|pces?\.?|stk\.?|stück|ea\.?|off)$/i, '').replace(/^[x×] ?/i, '')
  const shown = written.slice(0, 40)
  if (/^\d{1,3}[.,]0{3}$/.test(bare))
    return { words: `“${shown}” can be read in two ways. Write ${bare.replace(/[.,]/, '')} or ${bare.slice(0, -4)}.` }
  const plain = /^\d{1,3}(?:[.,' ]\d{3})+$/.test(bare) ? bare.replaceAll(/[.,' ]/g, '') : bare.replace(/[.,]0{1,2}$/, '')
  if (!/^\d{1,9}$/.test(plain)) return { words: `“${shown}” was not read as a count. Write a whole number, “ca. 30” or “not counted yet”.` }
  const count = Number(plain)
  if (count > MOST) return { words: 'That is more than a million. Check it.' }
  return count === 0 ? { words: 'There are none. Leave the row out, or write how many there are.' } : { quantity: count, howCounted }
}

/** "20 displays" may be twenty of them; "555 timer" is one. Which of the two is asked. */
export function maybeCountBefore(text: string): { count: Count; words: string } | null {
  const match = /^(\d{1,4}) (?=\p{L}{3})/u.exec(text)
  const quantity = Number(match?.[1] ?? 0)
  return match && quantity > 0 ? { count: { quantity, howCounted: 'counted' }, words: text.slice(match[0].length).trim() } : null
}

/** "20 x crystals": the count that stands before the words, and the words. */
export function countBefore(text: string): { count: Count; words: string } | null {
  const match = /^(ca\.? ?|about |~ ?)?(\d{1,6}) ?(?:x|×|pcs\.?|pieces of|pieces|stk\.?) ?(?=\S)/i.exec(text)
  if (!match) return null
  const quantity = Number(match[2])
  if (quantity === 0) return null
  return { count: { quantity, howCounted: match[1] ? 'about' : 'counted' }, words: text.slice(match[0].length).trim() }
}
