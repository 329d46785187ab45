'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'

/** Sends all letters that are shown, once. */
export function SendAll({ count, shown }: { count: number; shown: string }) {
  const router = useRouter()
  const { run, ...command } = useCommand(api.lastLetters.send.mutate)
  const [sent, setSent] = useState(0)
  const letters = count === 1 ? 'the letter' : `all ${count} letters`
  return (
    <>
      <div className="row">
        <ConfirmButton
          {...command}
          run={() => run({ shown })}
          onDone={({ sent }) => {
            setSent(sent)
            router.refresh()
          }}
          title={`Send ${letters}?`}
          undoes={
            <p>
              They go into the outbox exactly as shown below and are sent from there. A letter cannot be recalled once it is sent, and
              nobody gets it twice.
            </p>
          }
          confirm="Send them"
          keep="Not yet"
        >
          Send {letters}…
        </ConfirmButton>
      </div>
      <p role="status">{sent > 0 ? `${sent === 1 ? 'One letter is' : `${sent} letters are`} in the outbox.` : ''}</p>
    </>
  )
}
