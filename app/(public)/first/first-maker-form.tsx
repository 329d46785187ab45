'use client'

import { api } from '../../_trpc/client'
import { useCommand } from '../../_trpc/use-command'
import { CommandForm } from '../../_ui/forms/command-form'
import { SubmitButton } from '../../_ui/forms/submit-button'
import { TextField } from '../../_ui/forms/text-fields'

export function FirstMakerForm({ token }: { token: string }) {
  const { run, pending, refusal } = useCommand(async (input: { token: string; email: string; name: string }) => {
    await api.people.firstMaker.mutate(input)
    return true
  })
  return (
    <CommandForm
      run={(form) => run({ token, email: form.text('email'), name: form.text('name') })}
      pending={pending}
      refusal={refusal}
      onDone={() => window.location.assign('/bench/campaign')}
    >
      <p>You will run this campaign: set it up, build, test and open lots. Later you sign in with a code sent to this address.</p>
      <TextField name="name" label="Your name" autoComplete="name" />
      <TextField name="email" label="Your mail address" type="email" autoComplete="email" inputMode="email" />
      <SubmitButton>Become the maker</SubmitButton>
    </CommandForm>
  )
}
