'use client'

import { type ReactNode, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckField, RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { useReaderZone } from '#app/_ui/reader-zone.ts'
import { DISCLOSURE_KINDS, type DisclosureKind } from '#sale/bidders/disclosures.contract'
import { CONNECTIONS } from './connections'
import { useOwnCountry } from './own-country'

interface Filled {
  name: string
  country: string
  acceptsRules: boolean
  kind: string
  words: string
}

interface PaddleFormProps {
  name: string
  country: string
  hasPaddle: boolean
  /** What was said of being connected before; null when it was not asked yet. */
  disclosed: DisclosureKind | null
  countries: { value: string; label: string }[]
  onward: string
  /** The rules of sale, which stand before their acceptance. */
  children: ReactNode
}

export function PaddleForm({ name, country, hasPaddle, disclosed, countries, onward, children }: PaddleFormProps) {
  const zone = useReaderZone()
  const own = useOwnCountry()
  const [said, setSaid] = useState<string | null>(country === '' ? null : country)
  const proposed = said === null && countries.some(({ value }) => value === own) ? own : null
  // The contract takes an acceptance and nothing else; an unticked box is refused there, in words.
  const { run, pending, refusal } = useCommand(async ({ kind, words, ...input }: Filled) => {
    // What was said already is not said twice.
    if (kind !== disclosed || words !== '') await api.bidding.disclose.mutate({ lot: 0, kind: kind as DisclosureKind, words })
    return api.people.takePaddle.mutate({ ...(input as typeof input & { acceptsRules: true }), ...(zone && { zone }) })
  })
  return (
    <CommandForm
      run={(form) =>
        run({
          name: form.text('name'),
          country: form.text('country'),
          acceptsRules: form.ticked('acceptsRules'),
          kind: form.text('kind'),
          words: form.text('words'),
        })
      }
      pending={pending}
      refusal={refusal}
      onDone={() => window.location.assign(onward)}
    >
      <TextField
        name="name"
        label="Your name"
        hint="Only the staff see it."
        autoComplete="name"
        defaultValue={name.includes('@') ? '' : name}
        autoFocus={!hasPaddle}
      />
      <SelectField
        name="country"
        label="Where we would send it"
        hint={`The country decides postage, and whether a lot can be sent at all.${proposed === null ? '' : ' Your browser is set to this one; change it if we would send elsewhere.'}`}
        value={said ?? proposed ?? ''}
        onChange={(event) => setSaid(event.currentTarget.value)}
        options={[{ value: '', label: 'Choose a country' }, ...countries]}
      />
      <RadioGroup
        name="kind"
        label="Are you connected with this sale?"
        hint="You cannot bid on a lot you are connected with; having given something is no obstacle. Only the maker sees this."
        choices={DISCLOSURE_KINDS.map((value) => ({ value, label: CONNECTIONS[value] }))}
        defaultValue={disclosed ?? undefined}
      />
      <TextField name="words" label="If so, how?" optional />
      {children}
      <CheckField name="acceptsRules" label="I have read the rules of sale and accept them." />
      <SubmitButton>{hasPaddle ? 'Save' : 'Take a paddle'}</SubmitButton>
    </CommandForm>
  )
}
