'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { LotCard } from '#sale/lots/lots.contract'

interface RunLotProps {
  card: LotCard
  role: 'maker' | 'host'
  isGateOpen: boolean
}

/** What can be done to a lot in the state in which it is. */
export function RunLot({ card, role, isGateOpen }: RunLotProps) {
  const isUnopened = card.state === 'draft' || card.state === 'ready'
  const isRunning = card.state === 'open' || card.state === 'held'
  if (!isUnopened && !isRunning) return null
  return (
    <section className="stack" aria-label="Run the lot">
      <div className="row">
        {role === 'maker' && card.state === 'draft' && <ShowLot lot={card.number} />}
        {role === 'maker' && isUnopened && isGateOpen && <OpenLot card={card} />}
        {card.state === 'open' && card.soldWhere === 'here' && <HoldLot card={card} />}
        {card.state === 'held' && <ResumeLot card={card} />}
        {isRunning && card.soldWhere === 'here' && <ExtendLot card={card} />}
        {role === 'maker' && <WithdrawLot card={card} />}
      </div>
      {role === 'maker' && isRunning && card.soldWhere === 'here' && <CorrectLot card={card} />}
      {role === 'maker' && card.state === 'open' && card.soldWhere === 'elsewhere' && <ResultElsewhere card={card} />}
    </section>
  )
}

/** A command to the lot, and what its form needs: the page is asked for again once it is done. */
function useForLot<In, Out>(call: (input: In) => Promise<Out>) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(call)
  return { run, form: { pending, refusal, onDone: () => router.refresh() } }
}

function ShowLot({ lot }: { lot: number }) {
  const { run, form } = useForLot(api.lots.publish.mutate)
  return (
    <CommandForm run={async () => (await run({ lot })) ?? null} {...form} label="List the lot">
      <SubmitButton kind="line">Show it to everybody</SubmitButton>
    </CommandForm>
  )
}

function OpenLot({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.bidding.open.mutate)
  return (
    <ConfirmButton
      run={() => run({ lot: card.number })}
      {...form}
      title={`Open lot ${card.number}?`}
      undoes={
        <p>
          Its terms are fixed from this moment: price, reserve, description, postage. Bidding begins at once. Later only a correction is
          possible, which its bidders are told.
        </p>
      }
      confirm="Open the lot"
      keep="Not yet"
    >
      Open it for bidding…
    </ConfirmButton>
  )
}

function HoldLot({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.programme.hold.mutate)
  return (
    <ConfirmButton
      run={(typed) => run({ lot: card.number, reason: typed.text('reason') })}
      {...form}
      title={`Hold lot ${card.number}?`}
      undoes={<p>Its clock stops and bids are refused with your reason. When it goes on, its closing moves by at least the time held.</p>}
      fields={<TextField name="reason" label="Reason, for everybody to read" width="full" />}
      confirm="Hold it"
      keep="Let it run"
    >
      Hold this lot…
    </ConfirmButton>
  )
}

function ResumeLot({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.programme.resume.mutate)
  return (
    <CommandForm run={() => run({ lot: card.number })} {...form} label="On hold">
      <div className="row">
        <p>On hold: {card.heldReason}</p>
        <SubmitButton>Let it go on</SubmitButton>
      </div>
    </CommandForm>
  )
}

function ExtendLot({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.bidding.extend.mutate)
  return (
    <ConfirmButton
      run={(typed) => run({ lot: card.number, minutes: typed.whole('minutes'), reason: typed.text('reason') })}
      {...form}
      title={`Give lot ${card.number} more time?`}
      undoes={<p>A closing only ever moves later. Your role and the reason stand in its history.</p>}
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

function WithdrawLot({ card }: { card: LotCard }) {
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

function CorrectLot({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.bidding.correct.mutate)
  return (
    <details className="sheet">
      <summary>Correct its description</summary>
      <CommandForm
        run={async (typed) => (await run({ lot: card.number, words: typed.text('words') })) ?? null}
        {...form}
        emptyWhenDone
        label="Correct the description"
      >
        <TextareaField
          name="words"
          label="What was wrong, and what is right"
          hint="It becomes part of the history and is mailed to everybody who bid on it."
        />
        <SubmitButton>Add the correction</SubmitButton>
      </CommandForm>
    </details>
  )
}

function ResultElsewhere({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.bidding.elsewhereResult.mutate)
  return (
    <CommandForm
      run={(typed) => run({ lot: card.number, hammer: typed.text('hammer'), source: typed.text('source') })}
      {...form}
      label="Result"
    >
      <MoneyField
        name="hammer"
        label="Sold for"
        currency={card.currency}
        hint="As it ended at the other address. Leave it empty if it was not sold."
        optional
      />
      <TextField
        name="source"
        label="Where the result comes from"
        hint="An address where it can be read, or who told it; it stands on the lot's page."
        width="full"
      />
      <SubmitButton>Enter the result</SubmitButton>
    </CommandForm>
  )
}
