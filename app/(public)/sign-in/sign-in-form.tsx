'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CodeSent } from '#app/_ui/forms/code-sent.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { HOME } from './home'

type Sent = Awaited<ReturnType<typeof api.people.askCode.mutate>>

/** Two steps in one place: the email address, then the code that came by email. */
export function SignInForm({ onward }: { onward?: string }) {
  const [sent, setSent] = useState<Sent | null>(null)
  const ask = useCommand(api.people.askCode.mutate)
  const enter = useCommand(api.people.enterCode.mutate)

  if (sent === null)
    return (
      <CommandForm
        key="ask"
        run={(form) => ask.run({ email: form.text('email') })}
        pending={ask.pending}
        refusal={ask.refusal}
        onDone={setSent}
      >
        <p>No password needed: we email you a six-digit code, good for ten minutes in this browser.</p>
        <TextField name="email" label="Your email address" type="email" autoComplete="email" inputMode="email" />
        <SubmitButton>Email me a code</SubmitButton>
      </CommandForm>
    )
  return (
    <CommandForm
      key="enter"
      run={(form) => enter.run({ email: sent.email, code: form.text('code') })}
      pending={enter.pending}
      refusal={enter.refusal}
      onDone={({ role, hasPaddle }) => {
        const home =
          role === 'bidder' && !hasPaddle ? `/paddle${onward ? `?next=${encodeURIComponent(onward)}` : ''}` : (onward ?? HOME[role])
        // A whole page load: every part of the next page is rendered for who has just signed in.
        window.location.assign(home)
      }}
    >
      <CodeSent {...sent} />
      <TextField name="code" label="The code from the email" width="code" mono inputMode="numeric" autoComplete="one-time-code" autoFocus />
      <SubmitButton>Sign in</SubmitButton>
      <p className="small">
        <button type="button" className="button-plain" onClick={() => setSent(null)}>
          Use another address, or get another code
        </button>
      </p>
    </CommandForm>
  )
}
