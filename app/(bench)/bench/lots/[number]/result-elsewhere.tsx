'use client'

import { api } from '#app/_trpc/client.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { LotCard } from '#sale/lots/lots.contract'
import { useForLot } from './use-for-lot'

/** A lot that is sold under another address: how it ended there is entered by hand. */
export function ResultElsewhere({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.bidding.elsewhereResult.mutate)
  return (
    <CommandForm
      run={(typed) => run({ lot: card.number, hammer: typed.text('hammer'), source: typed.text('source') })}
      {...form}
      label="Result"
    >
      <MoneyField
        name="hammer"
        label="Sold for"
        currency={card.currency}
        hint="As it ended elsewhere. Leave it empty if it was not sold."
        optional
      />
      <TextField
        name="source"
        label="Where the result comes from"
        hint="An address where it can be read, or who told it; it is shown on the lot's page."
        width="full"
      />
      <SubmitButton>Enter the result</SubmitButton>
    </CommandForm>
  )
}
