import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import type { FormValues } from '#app/_ui/forms/form-values.ts'
import { MoneyField } from '#app/_ui/forms/text-fields.tsx'
import type { Currency } from '#kernel/money'
import { PaperFields } from './paper-fields'

export interface PaymentFieldsProps {
  currency: Currency
  /** What is still to pay, as it would be typed; empty where nothing is. */
  owed: string
  hint: string
  reference: string
}

/** What is written down of money that came in from a buyer, for one lot or for all lots of an invoice. */
export function PaymentFields({ currency, owed, hint, reference }: PaymentFieldsProps) {
  return (
    <>
      <MoneyField key={owed} name="amount" label="How much" currency={currency} defaultValue={owed} hint={hint} />
      <PaperFields reference={reference} />
      <RadioGroup
        name="over"
        label="If it is more than is owed"
        defaultValue={owed === '' ? 'keep' : 'refuse'}
        choices={[
          { value: 'refuse', label: 'Tell me and record nothing' },
          { value: 'keep', label: 'Hold the rest as unallocated', hint: 'Until the buyer says what it is for.' },
        ]}
      />
    </>
  )
}

export const paymentIn = (values: FormValues) => ({
  amount: values.text('amount'),
  reference: values.text('reference'),
  on: values.text('on'),
  over: values.text('over') === 'keep' ? ('keep' as const) : ('refuse' as const),
})
