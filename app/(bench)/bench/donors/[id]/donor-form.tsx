'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Anonymity } from '#stock/donors/donor.contract'
import { ANONYMITY_WORDS } from '../donor-words'

interface DonorFormProps {
  donor: { id: string; name: string; creditName: string; sayIt: string; contact: string; anonymity: Anonymity; approved: boolean }
}

/** Spelling, how to say it, and whether by name at all. Saving it approves what came from outside. */
export function DonorForm({ donor }: DonorFormProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.donors.change.mutate)
  return (
    <CommandForm
      run={(form) =>
        run({
          donorId: donor.id,
          name: form.text('name'),
          creditName: form.text('creditName'),
          sayIt: form.text('sayIt'),
          contact: form.text('contact'),
          anonymity: form.text('anonymity') as Anonymity,
        })
      }
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      label="As they are shown"
    >
      <TextField name="name" label="Who it is" hint="The name we know them by." defaultValue={donor.name} maxLength={120} />
      <TextField name="creditName" label="Credit name" defaultValue={donor.creditName} maxLength={120} />
      <TextField name="sayIt" label="How to say it" hint="For the host." optional defaultValue={donor.sayIt} maxLength={120} />
      <SelectField name="anonymity" label="Shown as" defaultValue={donor.anonymity} options={ANONYMITY_WORDS} />
      <TextField
        name="contact"
        label="Email address"
        hint="For thanks. Never shown to anybody."
        optional
        type="email"
        inputMode="email"
        autoComplete="off"
        defaultValue={donor.contact}
      />
      <SubmitButton kind="line">{donor.approved ? 'Keep it' : 'Approve and save'}</SubmitButton>
    </CommandForm>
  )
}
