'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField } from '#app/_ui/forms/text-fields.tsx'
import { plainMoney } from '#kernel/money'
import type { LadderView } from '#sale/lots/ladder.service'

const FROM: Record<LadderView['from'], string> = {
  lot: 'This lot has a ladder of its own.',
  campaign: 'This is the campaign’s ladder.',
  house: 'This is the standard ladder.',
}
const MOST = 12

/** By how much a price rises, from which amount on: for one lot, or for all that have none of their own. */
export function LadderForm({ lot, view }: { lot: number | null; view: LadderView }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.lots.saveLadder.mutate)
  const [rows, setRows] = useState(view.ladder.length + 1)
  const [said, setSaid] = useState('')
  const indexes = Array.from({ length: rows }, (_, index) => index)
  const money = (amount: number | undefined) => (amount === undefined ? '' : plainMoney(amount, view.currency))
  return (
    <CommandForm
      run={(form) => {
        setSaid('')
        const filled = indexes.map((index) => ({ from: form.text(`rows.${index}.from`), step: form.text(`rows.${index}.step`) }))
        return run({ lot, rows: filled })
      }}
      pending={pending}
      refusal={refusal}
      onDone={(kept) => {
        setSaid(`Saved. ${FROM[kept.from]}`)
        router.refresh()
      }}
      label="The ladder"
    >
      <p className="small quiet">
        {FROM[view.from]} The first rung begins at 0, and no step is smaller than the one before it. Leave all rows empty to go back to the
        usual one. The ladder is fixed when a lot opens.
      </p>
      {indexes.map((index) => (
        <div key={index} className="row">
          <MoneyField
            name={`rows.${index}.from`}
            label={`From, rung ${index + 1}`}
            currency={view.currency}
            defaultValue={money(view.ladder[index]?.fromMinor)}
          />
          <MoneyField
            name={`rows.${index}.step`}
            label="Step"
            currency={view.currency}
            defaultValue={money(view.ladder[index]?.stepMinor)}
          />
        </div>
      ))}
      <div className="row">
        <SubmitButton kind="line">Save the ladder</SubmitButton>
        {rows < MOST && (
          <button type="button" className="button-line" onClick={() => setRows(rows + 1)}>
            Another rung
          </button>
        )}
        <span role="status">{said}</span>
      </div>
    </CommandForm>
  )
}
