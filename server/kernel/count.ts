import { z } from 'zod'
import { text } from './text'

/** A whole number from `least` (0 or 1) as people type it: full-width digits and spaces are read, signs, decimals and exponents are refused. */
export const countIn = (most: number, what: string, least: 0 | 1 = 1) =>
  z
    .union([z.number(), text(40, `Write ${what} as a whole number from ${least}, such as 20.`)])
    .transform((raw) => (typeof raw === 'number' ? String(raw) : raw.normalize('NFKC').replaceAll(/\s/g, '')))
    .refine((digits) => digits !== '', { error: `Write ${what}.`, abort: true })
    .refine((digits) => /^\d{1,9}$/.test(digits) && Number(digits) >= least, {
      error: `Write ${what} as a whole number from ${least}, such as 20.`,
      abort: true,
    })
    .transform(Number)
    .refine((count) => count <= most, `That is more than ${most.toLocaleString('en')}. Check it.`)
