'use client'

import type { Books } from '../../../../../server/money/books.contract'
import type { CostAbout, CostBearer } from '../../../../../server/money/journal.rules'
import { api } from '../../../../_trpc/client'
import { RadioGroup } from '../../../../_ui/forms/choice-fields'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { MoneyField, SelectField, TextField } from '../../../../_ui/forms/text-fields'
import { LotField, lotOf } from '../lot-field'
import { PaperFields } from '../paper-fields'
import { useBookForm } from '../use-book-form'
import { ABOUT_WORDS, BEARER_CHOICES } from './cost-words'

export function CostForm({ books }: { books: Pick<Books, 'runs' | 'statement'> }) {
  const { key, run, ...form } = useBookForm(api.money.cost.mutate)
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
      <RadioGroup name="bearer" label="Out of whose part" defaultValue="seller" choices={BEARER_CHOICES} />
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
