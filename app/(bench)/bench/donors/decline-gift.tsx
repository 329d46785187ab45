'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckboxGroup } from '#app/_ui/forms/choice-fields.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { TextareaField } from '#app/_ui/forms/text-fields.tsx'
import { courteousDecline } from '#stock/donors/letters.rules'
import { LetterFields } from './letter-fields'

interface DeclineGiftProps {
  giftId: string
  what: string
  name: string
  campaign: string
  hasMail: boolean
}

/** Declined with a reason and a courteous letter, which follows the reason as it is written and can be changed. */
export function DeclineGift({ giftId, what, name, campaign, hasMail }: DeclineGiftProps) {
  const router = useRouter()
  const [reason, setReason] = useState('')
  const { run, pending, refusal } = useCommand(api.donors.declinePromise.mutate)
  const draft = courteousDecline({ name, what, reason: reason.trim() || '…', campaign })
  return (
    <ConfirmButton
      run={(form) =>
        run({
          giftId,
          reason: form.text('reason'),
          byHand: !hasMail || form.list('byHand').length > 0,
          subject: form.text('subject'),
          body: form.text('body'),
        })
      }
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      title={`Decline ${what} from ${name}?`}
      undoes={<p>The promise stays in the record as declined, with the reason. It is no longer counted as expected.</p>}
      confirm={hasMail ? 'Decline it and send the letter' : 'Decline it'}
      fields={
        <>
          <TextareaField
            name="reason"
            label="The reason, as they will read it"
            rows={2}
            maxLength={500}
            value={reason}
            onChange={(event) => setReason(event.currentTarget.value)}
          />
          <LetterFields key={draft.body} draft={draft} hint={hasMail ? undefined : 'We have no email address: copy it, or tell them.'} />
          {hasMail && <CheckboxGroup name="byHand" label="Or" choices={[{ value: 'yes', label: 'I’ll tell them myself; send nothing' }]} />}
        </>
      }
    >
      Decline…
    </ConfirmButton>
  )
}
