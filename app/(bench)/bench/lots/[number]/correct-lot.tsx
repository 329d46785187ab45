'use client'

import { api } from '#app/_trpc/client.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField } from '#app/_ui/forms/text-fields.tsx'
import type { LotCard } from '#sale/lots/lots.contract'
import { useForLot } from './use-for-lot'

/** What was wrong in the words of a lot whose terms are fixed: it is added, and its bidders are told. */
export function CorrectLot({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.bidding.correct.mutate)
  return (
    <details className="sheet">
      <summary>Correct its description</summary>
      <CommandForm
        run={async (typed) => (await run({ lot: card.number, words: typed.text('words') })) ?? null}
        {...form}
        emptyWhenDone
        label="Correct the description"
      >
        <TextareaField
          name="words"
          label="What was wrong, and what is right"
          hint="It becomes part of the history and is mailed to everybody who bid on it."
        />
        <SubmitButton>Add the correction</SubmitButton>
      </CommandForm>
    </details>
  )
}
