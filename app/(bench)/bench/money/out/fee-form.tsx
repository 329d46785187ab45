'use client'

import { api } from '#app/_trpc/client.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Books } from '#money/books/books.contract'
import type { CostBearer } from '#money/journal/journal.rules'
import { LotField, lotOf } from '../lot-field'
import { PaperFields } from '../paper-fields'
import { useBookForm } from '../use-book-form'
import { BEARER_CHOICES } from './cost-words'

/** What a bank or a payment provider kept. The payment itself is recorded whole. */
export function FeeForm({ books }: { books: Pick<Books, 'statement'> }) {
  const { key, run, ...form } = useBookForm(api.booking.fee.mutate)
  const { currency, lots } = books.statement
  return (
    <CommandForm
      {...form}
      label="A fee"
      emptyWhenDone
      run={(values) => {
        const lot = lotOf(values.text('lot'))
        return run({
          key,
          to: values.text('to'),
          amount: values.text('amount'),
          bearer: values.text('bearer') as CostBearer,
          ...(lot !== undefined && { lot }),
          reference: values.text('reference'),
          on: values.text('on'),
        })
      }}
    >
      <TextField name="to" label="Who deducted it" hint="The bank, or whoever passed the payment on." />
      <MoneyField
        name="amount"
        label="How much"
        currency={currency}
        hint="Record the payment in full, as the buyer made it, and enter here what did not arrive."
      />
      <RadioGroup name="bearer" label="Out of whose share" defaultValue="seller" choices={BEARER_CHOICES.slice(0, 2)} />
      <LotField lots={lots} none="For no single lot" />
      <PaperFields day="Day it was taken" />
      <SubmitButton>Record the fee</SubmitButton>
    </CommandForm>
  )
}
