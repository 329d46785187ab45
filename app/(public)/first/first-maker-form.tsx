'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

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
