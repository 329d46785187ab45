import type { Check } from '../designs/design.contract'
import { BY_ITSELF, type Catches } from './catch.rules'

/** What a pass of another quantity than what failed is worth: a level says little of a ripple, a frequency little of an amplitude. Common practice, no source. */
export const UNLIKE = 0.5

/** Of which sort the quantity of a check is, by its unit; null where it looks at the whole, as a yes, a count or a gain does. */
export function quantityOf({ kind, unit }: Pick<Check, 'kind' | 'unit'>): string | null {
  if (kind !== 'measure') return null
  const bare = unit.replaceAll(' ', '')
  if (/^[pnµmkMG]?(?:V|A|W)(?:pp|rms|rmssine)$/.test(bare)) return 'swing'
  if (/^[pnµmkMG]?(?:V|A|W)$/.test(bare)) return 'level'
  if (/^[pnµmkMG]?(?:Hz|s)$/.test(bare) || /^(?:ppm|cents)$/.test(bare)) return 'time'
  if (/^[pnµmkMG]?Ω$/.test(bare)) return 'resistance'
  return null
}

/**
 * Catches for the fault that is looked for: it shows in what failed, so a check of another quantity catches it less. A check
 * of unknown quantity, and a failure of one, speak of everything.
 */
export function forWhatFails(catches: Catches, checks: readonly Check[], failed: readonly string[]): Catches {
  const quantities = checks.filter(({ key }) => failed.includes(key)).map(quantityOf)
  if (quantities.length === 0 || quantities.includes(null)) return catches
  const unlike = new Set(
    checks.flatMap((check) => {
      const quantity = quantityOf(check)
      return quantity === null || quantities.includes(quantity) ? [] : [check.key]
    }),
  )
  return new Map(
    [...catches].map(([key, row]) => [
      key,
      unlike.has(key) ? new Map([...row].map(([block, share]) => [block, block === BY_ITSELF ? share : share * UNLIKE])) : row,
    ]),
  )
}
