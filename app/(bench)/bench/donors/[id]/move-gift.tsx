'use client'

import { useRouter } from 'next/navigation'
import type { GiftState } from '../../../../../server/donors/donor.contract'
import { movesFrom } from '../../../../../server/donors/gift.rules'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { SelectField, TextField } from '../../../../_ui/forms/text-fields'

type ByHand = Exclude<GiftState, 'promised' | 'arrived' | 'declined'>
const isByHand = (state: GiftState): state is ByHand => state !== 'promised' && state !== 'arrived' && state !== 'declined'

/** Moves a gift line along, where its rule lets it go anywhere. */
export function MoveGift({ giftId, state, what }: { giftId: string; state: GiftState; what: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.parcels.moveGift.mutate)
  const open = movesFrom(state).filter(isByHand)
  if (open.length === 0) return null
  return (
    <details>
      <summary className="small">Move it on</summary>
      <CommandForm
        run={(form) => run({ giftId, to: form.text('to') as ByHand, reason: form.text('reason') })}
        pending={pending}
        refusal={refusal}
        onDone={() => router.refresh()}
        label={`Move ${what}`}
      >
        <SelectField name="to" label="It is now" options={open.map((value) => ({ value, label: value }))} />
        <TextField name="reason" label="The reason" hint="Needed when it is quarantined, returned or destroyed." optional maxLength={500} />
        <SubmitButton kind="line">Move it</SubmitButton>
      </CommandForm>
    </details>
  )
}
