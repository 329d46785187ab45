'use client'

import { api } from '#app/_trpc/client.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { LotCard } from '#sale/lots/lots.contract'
import { lateWords } from '#sale/programme/late-words.rules'
import type { LateLot } from '#sale/programme/programme.contract'
import { useForLot } from './use-for-lot'

export function ShowLot({ lot, late }: { lot: number; late: LateLot | null }) {
  const { run, form } = useForLot(api.lots.publish.mutate)
  if (late)
    return (
      <ConfirmButton
        run={async () => (await run({ lot })) ?? null}
        {...form}
        title={`Show lot ${lot} to everybody?`}
        undoes={
          <p>
            It may not be ready: {lateWords(late)}. Everybody sees it from then on, and when it closes, where its closing was announced.
          </p>
        }
        confirm="Show it all the same"
        keep="Not yet"
        kind="first"
      >
        Show it to everybody…
      </ConfirmButton>
    )
  return (
    <CommandForm run={async () => (await run({ lot })) ?? null} {...form} label="List the lot">
      <SubmitButton kind="line">Show it to everybody</SubmitButton>
    </CommandForm>
  )
}

export function OpenLot({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.bidding.open.mutate)
  return (
    <ConfirmButton
      run={() => run({ lot: card.number })}
      {...form}
      title={`Open lot ${card.number}?`}
      undoes={
        <p>
          Its terms are fixed from this moment: price, reserve, description, postage. Bidding begins at once. After that you can only add a
          correction, which its bidders are told about.
        </p>
      }
      confirm="Open the lot"
      keep="Not yet"
    >
      Open it for bidding…
    </ConfirmButton>
  )
}

export function WithdrawLot({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.bidding.withdraw.mutate)
  const bids =
    card.bids === 0 ? 'Nobody has bid on it.' : `${card.bids} ${card.bids === 1 ? 'bid falls' : 'bids fall'} away and every bidder is told.`
  return (
    <ConfirmButton
      run={(typed) => run({ lot: card.number, reason: typed.text('reason') })}
      {...form}
      title={`Withdraw lot ${card.number}?`}
      undoes={<p>It ends the lot for good and nobody wins it. {bids} The unit can be put in a new lot.</p>}
      fields={<TextField name="reason" label="Reason, for everybody to read" width="full" />}
      confirm="Withdraw it"
      keep="Keep it"
    >
      Withdraw…
    </ConfirmButton>
  )
}
