'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField } from '#app/_ui/forms/text-fields.tsx'

/** The zone that emails say times in. */
export function ZoneForm({ zone, zones }: { zone: string; zones: readonly string[] }) {
  const [kept, setKept] = useState('')
  const { run, pending, refusal } = useCommand(async (input: { zone: string }) => {
    await api.people.setZone.mutate(input)
    return input.zone
  })
  const all = zones.includes(zone) ? zones : [zone, ...zones]
  return (
    <CommandForm run={(form) => run({ zone: form.text('zone') })} pending={pending} refusal={refusal} onDone={setKept}>
      <SelectField
        name="zone"
        label="Time zone"
        hint="Taken from your browser when you took your paddle."
        defaultValue={zone}
        options={all.map((value) => ({ value, label: value.replaceAll('_', ' ') }))}
      />
      <SubmitButton>Save the time zone</SubmitButton>
      <p role="status" className="small">
        {kept && `Our emails say times in ${kept.replaceAll('_', ' ')}.`}
      </p>
    </CommandForm>
  )
}
