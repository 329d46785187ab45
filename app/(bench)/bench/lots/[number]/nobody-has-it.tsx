'use client'

import Link from 'next/link'
import { api } from '#app/_trpc/client.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import type { LotCard } from '#sale/lots/lots.contract'
import { AFTERWARDS, fellThrough } from '#sale/price/result.rules'
import { useForLot } from './use-for-lot'

/** A lot that ended and whose machine nobody has bought: it can be sold again, kept or given. */
export function NobodyHasIt({ card }: { card: LotCard }) {
  const { run, form } = useForLot(api.lots.afterwards.mutate)
  return (
    <section className="sheet stack" aria-labelledby="afterwards">
      <h2 id="afterwards">{fellThrough(card) ? 'The sale fell through' : 'Nobody bought it'}</h2>
      <p>
        You can{' '}
        <Link prefetch={false} href="/bench/lots">
          put {card.unit} in a new lot
        </Link>
        . What you say here stands on the page of this lot.
      </p>
      <CommandForm
        label="What becomes of it"
        {...form}
        run={async (typed) => (await run({ lot: card.number, as: AFTERWARDS.find((one) => one === typed.text('as')) ?? '' })) ?? null}
      >
        <RadioGroup
          name="as"
          label="What becomes of the machine"
          defaultValue={card.afterwards ?? ''}
          choices={[
            { value: '', label: 'Not decided' },
            { value: 'kept', label: 'It is kept' },
            { value: 'given', label: 'It is given away' },
          ]}
        />
        <SubmitButton kind="line">Save</SubmitButton>
      </CommandForm>
    </section>
  )
}
