'use client'

import { type ChangeEvent, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CodeSent } from '#app/_ui/forms/code-sent.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { TextButton } from '#app/_ui/text-button.tsx'
import type { Asked } from '#people/sign-in/asked-cookie.rules'
import { HOME } from './home'

interface SignInFormProps {
  onward?: string
  /** How far somebody has come in a browser that runs no scripts. */
  asked?: Asked | null
  /** Where the page goes on by itself: then the code is sent as soon as its six digits are there. */
  onSignedIn?: (who: Entered) => void
}

type Sent = Awaited<ReturnType<typeof api.people.askCode.mutate>>

type Entered = Awaited<ReturnType<typeof api.people.enterCode.mutate>>

/** Two steps in one place: the email address, then the code that came by email. Without script both are sent to the house as a form. */
export function SignInForm({ onward, asked = null, onSignedIn }: SignInFormProps) {
  const [sent, setSent] = useState<Sent | null>(asked?.isSent ? asked : null)
  const [told, setTold] = useState(asked?.refused ?? null)
  const ask = useCommand(api.people.askCode.mutate)
  const enter = useCommand(api.people.enterCode.mutate)
  const next = onward && <input type="hidden" name="next" value={onward} />

  if (sent === null)
    return (
      <CommandForm
        key="ask"
        action="/sign-in"
        run={(form) => {
          setTold(null)
          return ask.run({ email: form.text('email') })
        }}
        pending={ask.pending}
        refusal={ask.refusal ?? told}
        onDone={setSent}
      >
        <p>No password needed: we email you a six-digit code, good for ten minutes in this browser.</p>
        {next}
        <TextField
          name="email"
          label="Your email address"
          type="email"
          autoComplete="email"
          inputMode="email"
          defaultValue={asked?.email}
        />
        <SubmitButton>Email me a code</SubmitButton>
      </CommandForm>
    )
  return (
    <CommandForm
      key="enter"
      action="/sign-in"
      run={(form) => {
        setTold(null)
        return enter.run({ email: sent.email, code: form.text('code') })
      }}
      pending={enter.pending}
      refusal={enter.refusal ?? told}
      onDone={(who) => {
        if (onSignedIn) return onSignedIn(who)
        const { role, hasPaddle } = who
        const home =
          role === 'bidder' && !hasPaddle ? `/paddle${onward ? `?next=${encodeURIComponent(onward)}` : ''}` : (onward ?? HOME[role])
        // A whole page load: every part of the next page is rendered for who has just signed in.
        window.location.assign(home)
      }}
    >
      <CodeSent {...sent} />
      {next}
      <input type="hidden" name="email" value={sent.email} />
      <TextField
        name="code"
        label="The code from the email"
        width="code"
        mono
        inputMode="numeric"
        autoComplete="one-time-code"
        autoFocus
        onChange={onSignedIn && sendWhenWhole}
      />
      <SubmitButton>Sign in</SubmitButton>
      <p className="small">
        <TextButton
          submits="again"
          press={() => {
            setTold(null)
            setSent(null)
          }}
        >
          Use another address, or get another code
        </TextButton>
      </p>
    </CommandForm>
  )
}

/** Six digits are a whole code: nobody has to look for the button. */
function sendWhenWhole({ currentTarget }: ChangeEvent<HTMLInputElement>): void {
  if (/^\d{6}$/.test(currentTarget.value.trim())) currentTarget.form?.requestSubmit()
}
