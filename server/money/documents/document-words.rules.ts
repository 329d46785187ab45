import type { DocumentContent } from './documents.contract'

/** "0012": as it is printed. */
export const showNumber = (number: number): string => String(number).padStart(4, '0')

const NAMES = { invoice: 'Invoice', 'credit note': 'Credit note', 'corrected invoice': 'Corrected invoice' } as const

/** "Credit note No. 0013 for invoice No. 0012". */
export function documentTitle({ kind, number, about }: Pick<DocumentContent, 'kind' | 'number' | 'about'>): string {
  return `${NAMES[kind]} No. ${showNumber(number)}${about === null ? '' : ` for invoice No. ${showNumber(about.number)}`}`
}
