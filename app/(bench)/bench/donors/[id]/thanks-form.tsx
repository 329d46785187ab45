'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { LetterFields } from '../letter-fields'

interface ThanksFormProps {
  donorId: string
  /** What the first thanks are for; none when it is the second, for what has sold. */
  giftIds: string[] | null
  draft: { subject: string; body: string }
  hasMail: boolean
}

interface Letter {
  byHand: boolean
  subject: string
  body: string
}

/** The letter as the facts have it, to be changed before it goes; or a note that thanks were said by hand. */
export function ThanksForm({ donorId, giftIds, draft, hasMail }: ThanksFormProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(async (letter: Letter) => {
    if (giftIds === null) await api.outcome.thankSold.mutate({ donorId, ...letter })
    else await api.outcome.thank.mutate({ donorId, giftIds, ...letter })
    return true
  })
  const onDone = () => router.refresh()
  const which = giftIds === null ? 'what was sold' : 'what came'
  return (
    <>
      <CommandForm
        run={(form) => run({ byHand: !hasMail, subject: form.text('subject'), body: form.text('body') })}
        pending={pending}
        refusal={refusal}
        onDone={onDone}
        label={`Thanks for ${which}`}
      >
        {!hasMail && <p>We have no email address. Thank them in person, in these words or your own, then note it here.</p>}
        <LetterFields draft={draft} hint="Written from the records. It never states a value." />
        <SubmitButton>{hasMail ? 'Send the thanks' : 'I thanked them in person'}</SubmitButton>
      </CommandForm>
      {hasMail && (
        <CommandForm
          run={() => run({ byHand: true, subject: '', body: '' })}
          pending={pending}
          refusal={null}
          onDone={onDone}
          label={`Thanks in person for ${which}`}
        >
          <SubmitButton kind="line">I thanked them in person</SubmitButton>
        </CommandForm>
      )}
    </>
  )
}
