'use client'

import { api } from '#app/_trpc/client.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { type Currency, showMoney } from '#kernel/money'
import type { SoldLot } from '#money/journal/sold.contract'
import { PaperFields } from '../paper-fields'
import { useBookForm } from '../use-book-form'

interface UndoProps {
  lot: SoldLot
  currency: Currency
}

/** The whole sale is undone, unpaid or paid. It says beforehand what will be owed back. */
export function FallThroughButton({ lot, currency }: UndoProps) {
  const { key, run, ...form } = useBookForm(api.booking.fallThrough.mutate)
  const paid = showMoney(lot.receivedMinor, currency)
  return (
    <ConfirmButton
      {...form}
      title={`The sale of lot ${lot.number} falls through?`}
      undoes={
        <p>
          The lot no longer counts: {showMoney(lot.causeMinor, currency)} less for the cause, and nothing is owed for it.{' '}
          {lot.receivedMinor > 0
            ? `${paid} was paid and is then owed back to ${lot.buyer}; it is listed under “Came in” until it is refunded.`
            : 'Nothing was paid for it.'}{' '}
          The history of the bids stays as it is.
        </p>
      }
      confirm="It fell through"
      fields={<TextField name="why" label="Why" />}
      run={(values) => run({ key, lot: lot.number, why: values.text('why') })}
    >
      The sale falls through…
    </ConfirmButton>
  )
}

export function ReduceButton({ lot, currency }: UndoProps) {
  const { key, run, ...form } = useBookForm(api.booking.reduce.mutate)
  return (
    <ConfirmButton
      {...form}
      title={`Reduce the price of lot ${lot.number}?`}
      undoes={<p>The price is {showMoney(lot.hammerMinor, currency)}. Anything then overpaid is owed back to the buyer.</p>}
      confirm="Lower the price"
      fields={
        <>
          <MoneyField name="amount" label="How much less" currency={currency} />
          <TextField name="why" label="Why" hint="Such as: the dial broke on the way." />
        </>
      }
      run={(values) => run({ key, lot: lot.number, amount: values.text('amount'), why: values.text('why') })}
    >
      Lower the price…
    </ConfirmButton>
  )
}

export function WentBackButton({ lot, currency }: UndoProps) {
  const { key, run, ...form } = useBookForm(api.booking.refund.mutate)
  return (
    <ConfirmButton
      {...form}
      title={`A payment for lot ${lot.number} went back?`}
      undoes={
        <p>The sale stands, so the buyer has to pay it again. At most {showMoney(lot.receivedMinor, currency)} can have gone back.</p>
      }
      confirm="It went back"
      fields={
        <>
          <MoneyField name="amount" label="How much" currency={currency} />
          <TextField name="why" label="Why" hint="Such as: the card was charged back." />
          <PaperFields day="Day it left the bank" />
        </>
      }
      run={(values) =>
        run({
          key,
          of: 'lot',
          lot: lot.number,
          amount: values.text('amount'),
          why: values.text('why'),
          reference: values.text('reference'),
          on: values.text('on'),
        })
      }
    >
      A payment went back…
    </ConfirmButton>
  )
}
