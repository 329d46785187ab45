'use client'

import { api } from '#app/_trpc/client.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { type Currency, plainMoney, showMoney } from '#kernel/money'
import type { UnplacedLine } from '#money/books/books.contract'
import type { SoldLot } from '#money/journal/sold.contract'
import { LotField } from '../lot-field'
import { PaperFields } from '../paper-fields'
import { useBookForm } from '../use-book-form'

interface ActionProps {
  item: UnplacedLine
  currency: Currency
}

const Amount = ({ item, currency }: ActionProps) => (
  <MoneyField
    name="amount"
    label="How much of it"
    currency={currency}
    defaultValue={plainMoney(item.leftMinor, currency)}
    hint={`${showMoney(item.leftMinor, currency)} is left of it.`}
  />
)

export function PlaceOnLotButton({ item, currency, lots }: ActionProps & { lots: readonly SoldLot[] }) {
  const { key, run, ...form } = useBookForm(api.booking.place.mutate)
  return (
    <ConfirmButton
      {...form}
      kind="first"
      title="Which lot is it for?"
      undoes={<p>It becomes a payment for that lot. You can reverse it in the journal.</p>}
      confirm="Allocate it"
      fields={
        <>
          <LotField lots={lots} hint="Lots with something left to pay." />
          <Amount item={item} currency={currency} />
        </>
      }
      run={(values) =>
        run({ key, to: 'lot', entryId: item.entryId, lot: values.whole('lot'), amount: values.text('amount'), on: values.text('on') })
      }
    >
      Allocate it to a lot…
    </ConfirmButton>
  )
}

export function KeepAsGiftButton({ item, currency }: ActionProps) {
  const { key, run, ...form } = useBookForm(api.booking.place.mutate)
  return (
    <ConfirmButton
      {...form}
      kind="first"
      title="Did the payer say that it is a gift?"
      undoes={<p>All of it goes to the cause. Money only becomes a gift when the payer says so; their words are recorded here.</p>}
      confirm="Keep it as a gift"
      fields={
        <>
          <Amount item={item} currency={currency} />
          <TextField name="word" label="What the payer said, and where" hint="Such as: “keep it for the school”, by email on 14 March." />
        </>
      }
      run={(values) =>
        run({
          key,
          to: 'gift',
          entryId: item.entryId,
          amount: values.text('amount'),
          word: values.text('word'),
          on: values.text('on'),
        })
      }
    >
      Keep it as a gift…
    </ConfirmButton>
  )
}

export function GiveBackButton({ item, currency }: ActionProps) {
  const { key, run, ...form } = useBookForm(api.booking.refund.mutate)
  return (
    <ConfirmButton
      {...form}
      kind="first"
      title="Has it been refunded?"
      undoes={<p>This records that it left the bank; it does not move any money.</p>}
      confirm="It was refunded"
      fields={
        <>
          <Amount item={item} currency={currency} />
          <TextField name="why" label="Why" defaultValue={item.isOwedBack ? 'It was owed back.' : ''} />
          <PaperFields day="Day it left the bank" />
        </>
      }
      run={(values) =>
        run({
          key,
          of: 'unplaced',
          entryId: item.entryId,
          amount: values.text('amount'),
          why: values.text('why'),
          reference: values.text('reference'),
          on: values.text('on'),
        })
      }
    >
      Refund it…
    </ConfirmButton>
  )
}
