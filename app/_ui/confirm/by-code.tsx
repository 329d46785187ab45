'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CodeSent } from '../forms/code-sent'
import { CommandForm } from '../forms/command-form'
import { SubmitButton } from '../forms/submit-button'
import { TextField } from '../forms/text-fields'
import { TextButton } from '../text-button'

type Sent = Awaited<ReturnType<typeof api.confirm.sendCode.mutate>>

/** The proof by a code in a mail to one's own address: asked for, then entered. */
export function ByCode({ email, isFirst, onProved }: { email: string; isFirst: boolean; onProved(): void }) {
  const [sent, setSent] = useState<Sent | null>(null)
  const send = useCommand(() => api.confirm.sendCode.mutate())
  const enter = useCommand(async (code: string) => {
    await api.confirm.byCode.mutate({ code })
    return true
  })
  if (!sent)
    return (
      <CommandForm
        key="send"
        label="Ask for a code"
        run={() => send.run(undefined)}
        pending={send.pending}
        refusal={send.refusal}
        onDone={setSent}
      >
        <SubmitButton kind={isFirst ? 'first' : 'line'}>Email a code to {email}</SubmitButton>
      </CommandForm>
    )
  return (
    <CommandForm
      key="enter"
      label="Enter the code"
      run={(form) => enter.run(form.text('code'))}
      pending={enter.pending}
      refusal={enter.refusal}
      onDone={onProved}
    >
      <CodeSent {...sent} />
      <TextField name="code" label="The code from the email" width="code" mono inputMode="numeric" autoComplete="one-time-code" autoFocus />
      <SubmitButton>Confirm</SubmitButton>
      <p className="small">
        <TextButton press={() => setSent(null)}>Ask for another code</TextButton>
      </p>
    </CommandForm>
  )
}
