'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { GiftState } from '#stock/donors/donor.contract'
import { movesFrom } from '#stock/donors/gift.rules'
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
  const { run, pending, refusal } = useCommand(api.gifts.move.mutate)
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
        <LetterFields key={body} draft={{ subject: letter.subject, body }} hint="Sent by email. Leave it empty and nothing is sent." />
      )}
      <SubmitButton kind="line">Move it</SubmitButton>
    </CommandForm>
  )
}
