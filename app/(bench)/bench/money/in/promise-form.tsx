'use client'

import { api } from '#app/_trpc/client.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { CURRENCIES, type Currency } from '#kernel/money'
import type { MatchBase } from '#money/matching/matching.rules'
import { useBookForm } from '../use-book-form'

/** A promise to add so much to what is counted: who, for what, by what rule, up to where. */
export function PromiseForm({ currency }: { currency: Currency }) {
  const { key, run, ...form } = useBookForm(api.matching.promise.mutate)
  const hundred = `${CURRENCIES[currency].sign.trim()}100`
  return (
    <CommandForm
      {...form}
      label="A promise of matched giving"
      emptyWhenDone
      run={(values) =>
        run({
          key,
          from: values.text('from'),
          base: values.text('base') as MatchBase,
          ratioPercent: values.text('ratioPercent'),
          cap: values.text('cap'),
        })
      }
    >
      <TextField name="from" label="Who promised it" hint="For the books only; it is not shown outside." />
      <RadioGroup
        name="base"
        label="What is matched"
        defaultValue="lots and gifts"
        choices={[
          { value: 'lots and gifts', label: 'The cause’s share of the lots, and gifts of money' },
          { value: 'lots', label: 'Only the lots' },
          { value: 'gifts', label: 'Only gifts of money' },
        ]}
      />
      <TextField
        name="ratioPercent"
        label={`Added to each ${hundred} that is counted`}
        hint="100 is pound for pound, 50 half as much."
        defaultValue="100"
        width="code"
        inputMode="decimal"
        mono
      />
      <MoneyField name="cap" label="Up to" currency={currency} hint="The most that will be added." />
      <SubmitButton>Record the promise</SubmitButton>
    </CommandForm>
  )
}
