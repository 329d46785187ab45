'use client'

import { api } from '#app/_trpc/client.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, SelectField, TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { IssueForm, type IssueFormProps } from '#app/_ui/issue-form.tsx'
import { type Currency, plainMoney } from '#kernel/money'
import { showNumber } from '#money/documents/document-words.rules'
import { PaperFields } from '../paper-fields'
import { useBookForm } from '../use-book-form'

export const StaffIssueForm = (props: Omit<IssueFormProps, 'issue'>) => <IssueForm {...props} issue={api.documents.issue.mutate} />

export interface PayInvoiceFormProps {
  number: number
  currency: Currency
  owedMinor: number
  reference: string
}

/** One payment for all lots of an invoice. */
export function PayInvoiceForm({ number, currency, owedMinor, reference }: PayInvoiceFormProps) {
  const { key, run, ...form } = useBookForm(api.documents.pay.mutate)
  const owed = plainMoney(owedMinor, currency)
  return (
    <details>
      <summary>Money came in</summary>
      <CommandForm
        {...form}
        label={`Money came in for invoice ${number}`}
        run={(values) =>
          run({
            key,
            number,
            amount: values.text('amount'),
            reference: values.text('reference'),
            on: values.text('on'),
            over: values.text('over') === 'keep' ? 'keep' : 'refuse',
          })
        }
      >
        <MoneyField
          key={owed}
          name="amount"
          label="How much"
          currency={currency}
          defaultValue={owed}
          hint="It is laid on the lots in their order."
        />
        <PaperFields reference={reference} />
        <RadioGroup
          name="over"
          label="If it is more than is owed"
          defaultValue="refuse"
          choices={[
            { value: 'refuse', label: 'Tell me and record nothing' },
            { value: 'keep', label: 'Hold the rest as unallocated', hint: 'Until the buyer says what it is for.' },
          ]}
        />
        <SubmitButton>Mark it paid</SubmitButton>
      </CommandForm>
    </details>
  )
}

/** The same lines, made out anew. */
export function MakeOutForm({ numbers }: { numbers: readonly { number: number; buyer: string }[] }) {
  const { key, run, ...form } = useBookForm(api.documents.makeOut.mutate)
  return (
    <CommandForm
      {...form}
      label="A corrected invoice"
      run={(values) =>
        run({
          key,
          number: Number(values.text('number')),
          name: values.text('name'),
          address: values.text('address'),
          why: values.text('why'),
        })
      }
    >
      <SelectField
        name="number"
        label="Which invoice"
        options={numbers.map(({ number, buyer }) => ({ value: String(number), label: `No. ${showNumber(number)}, ${buyer}` }))}
      />
      <TextField name="name" label="Made out to" />
      <TextareaField name="address" label="Their address" rows={4} />
      <TextField name="why" label="Why" hint="It is printed on the corrected invoice." />
      <SubmitButton>Issue the corrected invoice</SubmitButton>
    </CommandForm>
  )
}
