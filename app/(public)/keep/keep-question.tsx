'use client'

import { useCallback, useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { refusedBy, useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { sayWhen } from '#app/_ui/when.rules.ts'
import type { KeepPage } from '#end/deletion/deletion.contract'

const DONE = {
  kept: 'Thank you. We keep your name and address for this campaign.',
  forgotten: 'You are forgotten: your email address is deleted here.',
  'forgotten later':
    'We have noted it. Something is still to be paid, sent or answered between us, so your address is deleted when the time of that campaign is up.',
}

type Shown =
  | { is: 'reading' }
  | { is: 'nothing'; words: string }
  | { is: 'open'; token: string; page: KeepPage }
  | { is: 'done'; words: string }

/** Reads the key from behind the `#` and asks the question; the answer counts at once. */
export function KeepQuestion() {
  const [shown, setShown] = useState<Shown>({ is: 'reading' })
  const open = useCallback(async () => {
    const token = window.location.hash.slice(1)
    try {
      setShown({ is: 'open', token, page: await api.deletion.openKeep.mutate({ token }) })
    } catch (reason) {
      setShown({ is: 'nothing', words: refusedBy(reason).words })
    }
  }, [])
  useEffect(() => void open(), [open])
  if (shown.is === 'reading') return <p role="status">Opening the question…</p>
  if (shown.is === 'nothing')
    return (
      <>
        <h1>May we keep your address?</h1>
        <Notice tone="bad" live="alert" title={shown.words} />
      </>
    )
  if (shown.is === 'done')
    return (
      <>
        <h1>May we keep your address?</h1>
        <Notice tone="ok" live="status" title={shown.words} />
      </>
    )
  const { token, page } = shown
  const done = ({ is }: { is: keyof typeof DONE }) => setShown({ is: 'done', words: DONE[is] })
  return (
    <>
      <h1>May we keep your address, {page.name}?</h1>
      <p>
        It would be kept for {page.campaign}
        {page.cause && `, in aid of ${page.cause}`}.{' '}
        {page.answer === 'keep'
          ? 'You have said yes; you can still change your mind.'
          : `Without an answer it is deleted after ${sayWhen(page.answerBy - 1, page.zone, 'day')}.`}
      </p>
      <Answer token={token} keep onDone={done} />
      <Answer token={token} keep={false} onDone={done} />
    </>
  )
}

function Answer({ token, keep, onDone }: { token: string; keep: boolean; onDone(done: { is: keyof typeof DONE }): void }) {
  const { run, pending, refusal } = useCommand(api.deletion.answerKeep.mutate)
  return (
    <CommandForm run={() => run({ token, keep })} pending={pending} refusal={refusal} onDone={onDone}>
      <SubmitButton kind={keep ? undefined : 'line'}>{keep ? 'Yes, keep it' : 'No, forget me'}</SubmitButton>
    </CommandForm>
  )
}
