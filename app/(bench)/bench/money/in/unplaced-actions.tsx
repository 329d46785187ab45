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
      undoes={<p>It becomes a payment of that lot. It can be taken back in the journal.</p>}
      confirm="Place it"
      fields={
        <>
          <LotField lots={lots} hint="Lots that have something to pay." />
          <Amount item={item} currency={currency} />
        </>
      }
      run={(values) =>
        run({ key, to: 'lot', entryId: item.entryId, lot: values.whole('lot'), amount: values.text('amount'), on: values.text('on') })
      }
    >
      Place it on a lot…
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
      undoes={<p>It goes to the cause whole. Nobody’s money becomes a gift without their own word, which is kept here.</p>}
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
      title="Has it been sent back?"
      undoes={<p>This writes down that it left the bank; it moves no money itself.</p>}
      confirm="It went back"
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
      Give it back…
    </ConfirmButton>
  )
}
