import { z } from 'zod'

/** A whole number from 1 as people type it: full-width digits and spaces are read, signs, decimals and exponents are refused. */
export const countIn = (most: number, what: string) =>
  z
    .union([z.number(), z.string()])
    .transform((raw) => (typeof raw === 'number' ? String(raw) : raw.normalize('NFKC').replaceAll(/\s/g, '')))
    .refine((text) => text !== '', { error: `Write ${what}.`, abort: true })
    .refine((text) => /^[1-9]\d{0,8}$/.test(text), { error: `Write ${what} as a whole number from 1, such as 20.`, abort: true })
    .transform(Number)
    .refine((count) => count <= most, `That is more than ${most.toLocaleString('en')}. Check it.`)
