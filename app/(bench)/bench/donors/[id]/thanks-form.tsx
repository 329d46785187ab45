'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { TextareaField, TextField } from '../../../../_ui/forms/text-fields'

interface ThanksFormProps {
  donorId: string
  giftIds: string[]
  draft: { subject: string; body: string }
  hasMail: boolean
}

/** The letter as the facts have it, to be changed before it goes; or a note that thanks were said by hand. */
export function ThanksForm({ donorId, giftIds, draft, hasMail }: ThanksFormProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.parcels.thank.mutate)
  const onDone = () => router.refresh()
  return (
    <>
      {hasMail && (
        <CommandForm
          run={(form) => run({ donorId, giftIds, byHand: false, subject: form.text('subject'), body: form.text('body') })}
          pending={pending}
          refusal={refusal}
          onDone={onDone}
          label="Thanks by mail"
        >
          <TextField name="subject" label="Subject" defaultValue={draft.subject} maxLength={200} />
          <TextareaField name="body" label="Letter" hint="It never states a value." rows={10} defaultValue={draft.body} maxLength={5000} />
          <SubmitButton>Send the thanks</SubmitButton>
        </CommandForm>
      )}
      <CommandForm
        run={() => run({ donorId, giftIds, byHand: true })}
        pending={pending}
        refusal={hasMail ? null : refusal}
        onDone={onDone}
        label="Thanks by hand"
      >
        {!hasMail && <p>No mail address is known. Thank them by hand, then note it here.</p>}
        <SubmitButton kind={hasMail ? 'line' : 'first'}>It was said by hand</SubmitButton>
      </CommandForm>
    </>
  )
}
