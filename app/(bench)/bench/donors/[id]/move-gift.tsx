'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import type { GiftState } from '../../../../../server/donors/donor.contract'
import { movesFrom } from '../../../../../server/donors/gift.rules'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { SelectField, TextField } from '../../../../_ui/forms/text-fields'
import { LetterFields } from '../letter-fields'

type ByHand = Exclude<GiftState, 'promised' | 'arrived' | 'declined'>
const isByHand = (state: GiftState): state is ByHand => state !== 'promised' && state !== 'arrived' && state !== 'declined'

interface MoveGiftProps {
  giftId: string
  state: GiftState
  what: string
  /** The letter that goes with what is given back; null where no address is known. */
  letter: { subject: string; body: string } | null
}

/** Moves a gift line along, where its rule lets it go anywhere. */
export function MoveGift({ giftId, state, what, letter }: MoveGiftProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.parcels.moveGift.mutate)
  const open = movesFrom(state).filter(isByHand)
  const [to, setTo] = useState<ByHand | undefined>(open[0])
  const [reason, setReason] = useState('')
  if (to === undefined) return null
  const body = letter?.body.replace('…', () => reason.trim() || '…') ?? ''
  return (
    <CommandForm
      run={(form) => run({ giftId, to, reason: form.text('reason'), subject: form.text('subject'), body: form.text('body') })}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      label={`Move ${what}`}
    >
      <SelectField
        name="to"
        label="It is now"
        value={to}
        onChange={(event) => setTo(event.currentTarget.value as ByHand)}
        options={open.map((value) => ({ value, label: value }))}
      />
      <TextField
        name="reason"
        label="The reason"
        hint="Needed when it is quarantined, returned or destroyed."
        optional
        maxLength={500}
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
      {to === 'returned' && letter && (
        <LetterFields key={body} draft={{ subject: letter.subject, body }} hint="Sent by mail. Empty, none goes." />
      )}
      <SubmitButton kind="line">Move it</SubmitButton>
    </CommandForm>
  )
}
