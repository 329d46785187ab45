'use client'

import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { zonePlace } from '#kernel/wall-clock'

const TWO = [
  { value: 'first', label: 'The first, before the clocks go back' },
  { value: 'second', label: 'The second, after they have gone back' },
] as const

/** Day and time by the stream's clock. The third question comes only when the hour occurs twice. */
export function TimeFields({
  zone,
  on,
  at,
  asksWhich,
  isOptional = false,
}: {
  zone: string
  on: string
  at: string
  asksWhich: boolean
  /** The time may be left empty, to be planned later. */
  isOptional?: boolean
}) {
  return (
    <>
      <TextField name="on" label="Day" type="date" width="short" defaultValue={on} />
      <TextField
        name="at"
        label={`Time in ${zonePlace(zone)}`}
        type="time"
        width="short"
        defaultValue={at}
        optional={isOptional}
        hint={isOptional ? 'Leave it empty to plan the closing later.' : undefined}
      />
      {asksWhich && <RadioGroup name="which" label="Which of the two?" choices={TWO} />}
    </>
  )
}
