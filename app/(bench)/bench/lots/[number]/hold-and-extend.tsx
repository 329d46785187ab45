'use client'

import { api } from '#app/_trpc/client.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { LotCard } from '#sale/lots/lots.contract'
import { useForLot } from './use-for-lot'

export function HoldLot({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.programme.hold.mutate)
  return (
    <ConfirmButton
      run={(typed) => run({ lot: card.number, reason: typed.text('reason') })}
      {...form}
      title={`Hold lot ${card.number}?`}
      undoes={
        <p>
          Its clock stops and bids are refused with your reason. When it restarts, it has what was left or a quarter of an hour, at least.
        </p>
      }
      fields={<TextField name="reason" label="Reason, for everybody to read" width="full" />}
      confirm="Hold it"
      keep="Leave it running"
    >
      Hold this lot…
    </ConfirmButton>
  )
}

export function ResumeLot({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.programme.resume.mutate)
  return (
    <CommandForm run={() => run({ lot: card.number })} {...form} label="On hold">
      <div className="row">
        <p>On hold: {card.heldReason}</p>
        <SubmitButton>Restart it</SubmitButton>
      </div>
    </CommandForm>
  )
}

export function ExtendLot({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.bidding.extend.mutate)
  return (
    <ConfirmButton
      run={(typed) => run({ lot: card.number, minutes: typed.whole('minutes'), reason: typed.text('reason') })}
      {...form}
      title={`Give lot ${card.number} more time?`}
      undoes={<p>A closing only ever moves later. The history shows your role and the reason.</p>}
      fields={
        <>
          <TextField name="minutes" label="Minutes" inputMode="numeric" width="short" defaultValue="5" />
          <TextField name="reason" label="Reason, for everybody to read" width="full" />
        </>
      }
      confirm="Move the closing"
      keep="Leave it"
    >
      More time…
    </ConfirmButton>
  )
}
