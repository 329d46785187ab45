import { SelectField } from '#app/_ui/forms/text-fields.tsx'
import type { SoldLot } from '#money/journal/sold.contract'

/** Which lot a sum is for; the empty choice stands first where none need be named. */
export function LotField({ lots, none, hint }: { lots: readonly SoldLot[]; none?: string; hint?: string }) {
  const options = lots.map(({ number, title, buyer }) => ({ value: String(number), label: `Lot ${number}: ${title}, ${buyer}` }))
  return (
    <SelectField
      name="lot"
      label="Lot"
      {...(hint !== undefined && { hint })}
      options={none === undefined ? options : [{ value: '', label: none }, ...options]}
    />
  )
}

/** The lot's number out of a form; undefined for none. */
export const lotOf = (typed: string): number | undefined => (typed === '' ? undefined : Number(typed))
