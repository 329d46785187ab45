'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckboxGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { type Anonymity, CONSENT_USES } from '#stock/donors/donor.contract'
import { ANONYMITY_WORDS, USE_QUESTIONS } from './donor-words'

export function NewDonorForm() {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.donors.add.mutate)
  return (
    <CommandForm
      run={(form) => {
        const uses = form.list('consents')
        return run({
          name: form.text('name'),
          creditName: form.text('creditName'),
          sayIt: form.text('sayIt'),
          contact: form.text('contact'),
          anonymity: form.text('anonymity') as Anonymity,
          consents: { page: uses.includes('page'), stream: uses.includes('stream'), card: uses.includes('card') },
        })
      }}
      pending={pending}
      refusal={refusal}
      onDone={(donor) => router.push(`/bench/donors/${donor.id}`)}
      label="A new donor"
    >
      <TextField name="name" label="Name" autoComplete="off" maxLength={120} />
      <TextField
        name="creditName"
        label="Credit name"
        hint="As they want it spelt. Leave it empty to use the name above."
        optional
        maxLength={120}
      />
      <TextField name="sayIt" label="How to say it" hint="For the host, such as TOH-mas." optional maxLength={120} />
      <TextField
        name="contact"
        label="Email address"
        hint="For thanks. Never shown to anybody."
        optional
        type="email"
        inputMode="email"
        autoComplete="off"
      />
      <SelectField name="anonymity" label="Shown as" defaultValue="named" options={ANONYMITY_WORDS} />
      <CheckboxGroup
        name="consents"
        label="May we name them?"
        hint="Tick only what they have agreed to."
        choices={CONSENT_USES.map((use) => ({ value: use, label: USE_QUESTIONS[use] }))}
      />
      <SubmitButton kind="line">Add the donor</SubmitButton>
    </CommandForm>
  )
}
