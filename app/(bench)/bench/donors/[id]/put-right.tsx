'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { restrictionOf } from '#app/(bench)/bench/parcels/new/draft.rules.ts'
import type { GiftState } from '#stock/donors/donor.contract'
import { courteousReturn } from '#stock/donors/letters.rules'
import { type Goals, OnlyFor } from '../only-for'
import { MoveGift } from './move-gift'

export interface PutRightProps {
  gift: {
    id: string
    what: string
    kind: string
    state: GiftState
    quantity: number
    partId: string | null
    onlyFor: string
    batchId: string | null
  }
  name: string
  campaign: string
  hasMail: boolean
  goals: Goals & { lots: { number: number; title: string }[] }
  withLot: number | null
}

const IS_OVER: readonly GiftState[] = ['declined', 'returned', 'destroyed']

/** What can be put right in a gift line: its count, what it is for, with which lot it goes, and where it stands. */
export function PutRight({ gift, name, campaign, hasMail, goals, withLot }: PutRightProps) {
  if (IS_OVER.includes(gift.state)) return null
  const isCounted = gift.kind !== 'labour' && gift.kind !== 'money' && gift.kind !== 'postage'
  return (
    <details>
      <summary className="small">Put it right or move it on</summary>
      <div className="stack">
        {isCounted && <Recount gift={gift} />}
        <Restrict gift={gift} goals={goals} />
        {gift.partId === null && isCounted && <WithLot gift={gift} lots={goals.lots} withLot={withLot} />}
        <MoveGift
          giftId={gift.id}
          state={gift.state}
          what={gift.what}
          letter={hasMail ? courteousReturn({ name, what: gift.what, reason: '…', campaign }) : null}
        />
      </div>
    </details>
  )
}

/** A miscount: in the batch and the gift at once where there is a batch, with the reason in the history of both. */
function Recount({ gift }: Pick<PutRightProps, 'gift'>) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(async ({ quantity, reason }: { quantity: string; reason: string }) => {
    if (gift.batchId !== null) await api.shelf.recount.mutate({ batchId: gift.batchId, quantity, reason })
    else await api.gifts.recount.mutate({ giftId: gift.id, quantity, reason })
    return true
  })
  return (
    <CommandForm
      run={(form) => run({ quantity: form.text('quantity'), reason: form.text('reason') })}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      label={`Recount ${gift.what}`}
    >
      <TextField name="quantity" label="How many there are" inputMode="numeric" width="code" defaultValue={String(gift.quantity)} />
      <TextField name="reason" label="What was wrong with the count" maxLength={500} />
      <SubmitButton kind="line">Correct the count</SubmitButton>
    </CommandForm>
  )
}

function Restrict({ gift, goals }: Pick<PutRightProps, 'gift' | 'goals'>) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.gifts.restrict.mutate)
  return (
    <CommandForm
      run={(form) => run({ giftId: gift.id, reason: form.text('reason'), ...restrictionOf(form.text('onlyFor')) })}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      label={`What ${gift.what} is for`}
    >
      <OnlyFor goals={goals} defaultValue={gift.onlyFor} />
      <TextField name="reason" label="Why" optional maxLength={500} />
      <SubmitButton kind="line">Save what it is for</SubmitButton>
    </CommandForm>
  )
}

/** An extra goes with a lot that is not open yet; its giver then stands in the credits of that lot. */
function WithLot({ gift, lots, withLot }: { gift: PutRightProps['gift']; lots: PutRightProps['goals']['lots']; withLot: number | null }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(async (lot: number | null) => {
    await api.gifts.putWithLot.mutate({ giftId: gift.id, lot })
    return true
  })
  const options = [
    { value: '', label: 'No lot' },
    ...lots.map(({ number, title }) => ({ value: String(number), label: `Lot ${number}, ${title}` })),
  ]
  return (
    <CommandForm
      run={(form) => run(form.text('lot') === '' ? null : Number(form.text('lot')))}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      label={`The lot that ${gift.what} goes with`}
    >
      <SelectField
        name="lot"
        label="It goes with"
        hint="Open lots have fixed terms, so they are not listed."
        defaultValue={withLot === null ? '' : String(withLot)}
        options={
          withLot !== null && !lots.some(({ number }) => number === withLot)
            ? [...options, { value: String(withLot), label: `Lot ${withLot}` }]
            : options
        }
      />
      <SubmitButton kind="line">Put it with that lot</SubmitButton>
    </CommandForm>
  )
}
