'use client'

import { api } from '#app/_trpc/client.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Books } from '#money/books/books.contract'
import type { CostAbout, CostBearer } from '#money/journal/journal.rules'
import { LotField, lotOf } from '../lot-field'
import { PaperFields } from '../paper-fields'
import { useBookForm } from '../use-book-form'
import { ABOUT_WORDS, BEARER_CHOICES } from './cost-words'

export function CostForm({ books }: { books: Pick<Books, 'runs' | 'statement'> }) {
  const { key, run, ...form } = useBookForm(api.booking.cost.mutate)
  const { currency, lots } = books.statement
  return (
    <CommandForm
      {...form}
      label="A cost"
      emptyWhenDone
      run={(values) => {
        const lot = lotOf(values.text('lot'))
        return run({
          key,
          what: values.text('what'),
          about: values.text('about') as CostAbout,
          amount: values.text('amount'),
          bearer: values.text('bearer') as CostBearer,
          paidFrom: values.text('paidFrom') as 'bank' | 'pocket',
          ...(lot !== undefined && { lot }),
          ...(values.text('runId') !== '' && { runId: values.text('runId') }),
          reference: values.text('reference'),
          on: values.text('on'),
        })
      }}
    >
      <TextField name="what" label="What was bought" />
      <SelectField name="about" label="For" options={Object.entries(ABOUT_WORDS).map(([value, label]) => ({ value, label }))} />
      <MoneyField name="amount" label="How much" currency={currency} />
      <RadioGroup name="bearer" label="Out of whose share" defaultValue="seller" choices={BEARER_CHOICES} />
      <RadioGroup
        name="paidFrom"
        label="Paid from"
        defaultValue="bank"
        choices={[
          { value: 'bank', label: 'The campaign’s bank' },
          { value: 'pocket', label: 'The seller’s own pocket', hint: 'It is then owed back to the seller.' },
        ]}
      />
      <SelectField
        name="runId"
        label="For which machines"
        options={[{ value: '', label: 'For all of it' }, ...books.runs.map(({ id, words }) => ({ value: id, label: words }))]}
      />
      <LotField lots={lots} none="For no single lot" />
      <PaperFields day="Day it was paid" />
      <SubmitButton>Record the cost</SubmitButton>
    </CommandForm>
  )
}
