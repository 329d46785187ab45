'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { showMoney } from '#kernel/money'
import type { SendingView } from '#money/sending/sending.contract'

/** What the parcel really cost to send, beside what its buyer was charged. */
export function ParcelCost({ view }: { view: SendingView }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.sending.cost.mutate)
  const { postage, currency } = view
  return (
    <section className="sheet stack" aria-labelledby="cost">
      <h2 id="cost">What sending it cost</h2>
      <p>{costWords(postage, (minor) => showMoney(minor, currency))}</p>
      <CommandForm
        label="What sending it cost"
        emptyWhenDone
        pending={pending}
        refusal={refusal}
        run={(form) =>
          run({
            key,
            lot: view.lot,
            amount: form.text('amount'),
            paidFrom: form.text('paidFrom') === 'pocket' ? 'pocket' : 'bank',
            reference: form.text('reference'),
            on: form.text('on'),
          })
        }
        onDone={() => {
          renew()
          router.refresh()
        }}
      >
        <MoneyField
          name="amount"
          label={postage.costMinor === null ? 'What the carrier took' : 'What the carrier took besides'}
          currency={currency}
          hint="It is entered as a cost, paid out of postage. Reverse a wrong one in the journal."
        />
        <RadioGroup
          name="paidFrom"
          label="Paid from"
          defaultValue="bank"
          choices={[
            { value: 'bank', label: 'The campaign’s bank' },
            { value: 'pocket', label: 'The seller’s own pocket', hint: 'It is then owed back to the seller.' },
          ]}
        />
        <TextField name="reference" label="Number on the receipt" optional mono />
        <TextField name="on" label="Day it was paid" hint="Leave it empty for today." optional type="date" width="short" />
        <div>
          <SubmitButton kind="line">Enter it</SubmitButton>
        </div>
      </CommandForm>
    </section>
  )
}

function costWords({ paidMinor, costMinor }: SendingView['postage'], show: (minor: number) => string): string {
  const charged = `The buyer is charged ${show(paidMinor)} for postage.`
  if (costMinor === null) return `${charged} Nothing has been entered of what it cost.`
  const far = costMinor - paidMinor
  const beside = far === 0 ? 'just that' : far > 0 ? `${show(far)} more than that` : `${show(-far)} less than that`
  return `${charged} It cost ${show(costMinor)} so far, ${beside}.`
}
