'use client'

import { api } from '#app/_trpc/client.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { type Currency, plainMoney, showMoney } from '#kernel/money'
import type { PromiseLine } from '#money/matching/matching.contract'
import { PaperFields } from '../paper-fields'
import { useBookForm } from '../use-book-form'

export function ReceiveMatchButton({ promise, currency }: { promise: PromiseLine; currency: Currency }) {
  const { key, run, ...form } = useBookForm(api.matching.receive.mutate)
  const due = promise.dueMinor > 0 ? plainMoney(promise.dueMinor, currency) : ''
  return (
    <ConfirmButton
      {...form}
      kind="first"
      title={`What ${promise.from} sent`}
      undoes={<p>All of it goes to the cause. {showMoney(promise.dueMinor, currency)} has been earned and can be asked for now.</p>}
      confirm="Record it"
      fields={
        <>
          <MoneyField key={due} name="amount" label="How much" currency={currency} defaultValue={due} />
          <PaperFields />
        </>
      }
      run={(values) =>
        run({
          key,
          promiseId: promise.id,
          amount: values.text('amount'),
          reference: values.text('reference'),
          on: values.text('on'),
        })
      }
    >
      Money came for it…
    </ConfirmButton>
  )
}

export function EndPromiseButton({ promise }: { promise: PromiseLine }) {
  const { key: _, run, ...form } = useBookForm(api.matching.end.mutate)
  return (
    <ConfirmButton
      {...form}
      title={`End the promise of ${promise.from}?`}
      undoes={
        <p>Nothing more becomes due under it, and it cannot be restarted: record a new promise instead. What has already come in stays.</p>
      }
      confirm="End it"
      fields={<TextField name="why" label="Why" />}
      run={(values) => run({ promiseId: promise.id, why: values.text('why') })}
    >
      End it…
    </ConfirmButton>
  )
}
