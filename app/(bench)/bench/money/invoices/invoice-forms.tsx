'use client'

import { api } from '#app/_trpc/client.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { IssueForm, type IssueFormProps } from '#app/_ui/issue-form.tsx'
import { type Currency, plainMoney } from '#kernel/money'
import { showNumber } from '#money/documents/document-words.rules'
import { PaymentFields, paymentIn } from '../payment-fields'
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
      <CommandForm {...form} label={`Money came in for invoice ${number}`} run={(values) => run({ key, number, ...paymentIn(values) })}>
        <PaymentFields currency={currency} owed={owed} hint="It is laid on the lots in their order." reference={reference} />
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
