'use client'

import { api } from '../../_trpc/client'
import { useCommand } from '../../_trpc/use-command'
import { CheckField } from '../../_ui/forms/choice-fields'
import { CommandForm } from '../../_ui/forms/command-form'
import { SubmitButton } from '../../_ui/forms/submit-button'
import { SelectField, TextField } from '../../_ui/forms/text-fields'

interface PaddleFormProps {
  name: string
  country: string
  hasPaddle: boolean
  countries: { value: string; label: string }[]
  onward: string
}

export function PaddleForm({ name, country, hasPaddle, countries, onward }: PaddleFormProps) {
  // The contract takes an acceptance and nothing else; an unticked box is refused there, in words.
  const { run, pending, refusal } = useCommand((input: { name: string; country: string; acceptsRules: boolean }) =>
    api.people.takePaddle.mutate(input as typeof input & { acceptsRules: true }),
  )
  return (
    <CommandForm
      run={(form) => run({ name: form.text('name'), country: form.text('country'), acceptsRules: form.ticked('acceptsRules') })}
      pending={pending}
      refusal={refusal}
      onDone={() => window.location.assign(onward)}
    >
      <TextField
        name="name"
        label="Your name"
        hint="Seen by the staff only."
        autoComplete="name"
        defaultValue={name.includes('@') ? '' : name}
      />
      <SelectField
        name="country"
        label="Where it would go"
        hint="The country decides postage, and whether a lot can be sent at all."
        defaultValue={country}
        options={[{ value: '', label: 'Choose a country' }, ...countries]}
      />
      <CheckField name="acceptsRules" label="I have read the rules of sale and accept them." />
      <SubmitButton>{hasPaddle ? 'Keep these' : 'Take a paddle'}</SubmitButton>
    </CommandForm>
  )
}
