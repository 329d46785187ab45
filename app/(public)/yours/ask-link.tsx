'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'

/** The answer is the same for every address, so that nobody learns who has given. */
export function AskLink() {
  const [asked, setAsked] = useState(false)
  const { run, pending, refusal } = useCommand(async (input: { mail: string }) => {
    await api.yours.askLink.mutate(input)
    return true
  })
  if (asked) {
    return (
      <Notice tone="ok" live="status" title="Check your email">
        <p>If we have written to that address before, a new link is on its way. Any earlier link then stops working.</p>
      </Notice>
    )
  }
  return (
    <CommandForm
      run={(form) => run({ mail: form.text('mail') })}
      pending={pending}
      refusal={refusal}
      onDone={() => setAsked(true)}
      label="Ask for a link"
    >
      <TextField
        name="mail"
        label="The email address we wrote to you at"
        type="email"
        inputMode="email"
        autoComplete="email"
        maxLength={254}
      />
      <SubmitButton>Send me a new link</SubmitButton>
    </CommandForm>
  )
}
