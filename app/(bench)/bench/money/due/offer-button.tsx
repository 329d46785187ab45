'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { When } from '#app/_ui/when.tsx'
import { type Currency, showMoney } from '#kernel/money'
import type { NextUnderbidder, OfferView } from '#money/invoices/invoices.contract'
import { useBookForm } from '../use-book-form'

export interface OfferButtonProps {
  lot: number
  /** The first sale has ended already. */
  isEnded: boolean
  underbidder: NextUnderbidder & { offers: OfferView[] }
  currency: Currency
  zone: string
}

/** The lot goes to whoever comes next, at their own highest bid; before that, who it is, and who was passed over and why. */
export function OfferButton({ lot, isEnded, underbidder, currency, zone }: OfferButtonProps) {
  const { key, run, ...form } = useBookForm(api.invoices.offer.mutate)
  const { first, next, passedOver, offers } = underbidder
  const show = (minor: number) => showMoney(minor, currency)
  const open = offers.find(({ answer, isOver }) => answer === null && !isOver)
  return (
    <div className="stack close">
      {offers.map((offer) => (
        <p key={offer.id} className="small">
          Offered at {show(offer.priceMinor)} and {show(offer.postageMinor)} postage:{' '}
          {offer.answer ?? (offer.isOver ? 'no answer' : 'waiting for an answer')}
          {offer.answer === null && !offer.isOver && (
            <>
              , until <When at={offer.openUntil} zone={zone} />
            </>
          )}
          .
        </p>
      ))}
      {first && first.paidMinor > 0 && (
        <p className="small">
          {first.name} has paid {show(first.paidMinor)} so far. If the sale ends, that is owed back to them.
        </p>
      )}
      {passedOver.map(({ name, why }) => (
        <p key={name} className="small quiet">
          Not to {name}: {why}
        </p>
      ))}
      {open ? (
        <TakeBack offerId={open.id} />
      ) : next ? (
        <ConfirmButton
          {...form}
          title={`Offer lot ${lot} to ${next.name}?`}
          undoes={
            <p>
              {!isEnded && `The sale to ${first?.name ?? 'the buyer'} ends at once, and they are told. `}
              {first &&
                first.paidMinor > 0 &&
                `They have paid ${show(first.paidMinor)} so far: it is owed back to them and stands among the unallocated money, under their name, until you refund it. `}
              {next.name}
              {next.paddle !== null && `, paddle ${next.paddle},`} can have it at their own highest bid, {show(next.priceMinor)}, with{' '}
              {show(next.postageMinor)} postage, as a new contract. If they say no, the next one can be asked.
            </p>
          }
          fields={
            <TextField
              name="why"
              label="Why the first sale ended"
              defaultValue={isEnded ? 'The first sale fell through.' : 'It was not paid in time.'}
            />
          }
          confirm="Make the offer"
          keep="Not yet"
          run={(values) => run({ key, lot, why: values.text('why') })}
        >
          Offer it to the next bidder…
        </ConfirmButton>
      ) : (
        !offers.some(({ answer }) => answer === 'accepted') && (
          <p className="small">There is nobody left to offer it to: put the unit in a new lot.</p>
        )
      )}
    </div>
  )
}

function TakeBack({ offerId }: { offerId: string }) {
  const { onDone } = useBookForm(api.invoices.takeBackOffer.mutate)
  const { run, pending, refusal } = useCommand(api.invoices.takeBackOffer.mutate)
  return (
    <CommandForm label="The offer" pending={pending} refusal={refusal} run={async () => (await run({ offerId })) ?? null} onDone={onDone}>
      <div>
        <SubmitButton kind="line">Take the offer back</SubmitButton>
      </div>
    </CommandForm>
  )
}
