'use client'

import { useSyncExternalStore } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

/** The token stands behind the `#` of the link, so that only this browser ever sees it; it is sent, and spent, with the form. */
export function FirstMakerForm() {
  const token = useSyncExternalStore<string | null>(
    (changed) => {
      window.addEventListener('hashchange', changed)
      return () => window.removeEventListener('hashchange', changed)
    },
    () => window.location.hash.slice(1),
    () => null,
  )
  const { run, pending, refusal } = useCommand(async (input: { token: string; email: string; name: string }) => {
    await api.people.firstMaker.mutate(input)
    return true
  })
  if (!token)
    return (
      <p>
        Open this page with the whole link that the house prints when it first starts, in a browser that runs scripts. Look for it where you
        ran the start command; it is good for an hour, and the next start prints another.
      </p>
    )
  return (
    <CommandForm
      run={(form) => run({ token, email: form.text('email'), name: form.text('name') })}
      pending={pending}
      refusal={refusal}
      onDone={() => window.location.assign('/bench/campaign')}
    >
      <p>You will run this campaign: set it up, build, test and open lots. After this you sign in with a code sent to this address.</p>
      <TextField name="name" label="Your name" autoComplete="name" />
      <TextField name="email" label="Your email address" type="email" autoComplete="email" inputMode="email" />
      <SubmitButton>Become the maker</SubmitButton>
    </CommandForm>
  )
}
