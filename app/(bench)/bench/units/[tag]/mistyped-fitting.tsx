'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { sourcesFor } from './sources'
import type { Choices } from './types'

/** For when the record names another batch or piece than the one that was soldered in. Nothing on the machine changes. */
export function MistypedFitting({ view, choices, seen, again }: { view: BringupView; choices: Choices; seen: string; again(): void }) {
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.bringup.correctFitting.mutate)
  const [chosen, setChosen] = useState<string | null>(null)
  const filled = view.positions.flatMap(({ holds, ...position }) => (holds ? [{ ...position, holds }] : []))
  const position = filled.find(({ designator }) => designator === chosen) ?? filled[0]
  if (!position) return null
  const { designator, holds } = position
  const sources = sourcesFor(view, choices, designator)
  const others = sources.list.filter(({ name }) => name !== (sources.of === 'pieceTag' ? holds.piece : holds.batch))
  return (
    <section className="sheet" aria-labelledby="mistyped">
      <details>
        <summary>
          <h2 id="mistyped">Correct a mistyped fitting</h2>
        </summary>
        <CommandForm
          label="Correction of a fitting"
          pending={pending}
          refusal={refusal}
          emptyWhenDone
          run={(form) => run({ key, tag: view.tag, seen, designator, reason: form.text('reason'), [sources.of]: form.maybe(sources.of) })}
          onDone={() => {
            renew()
            again()
          }}
        >
          <p>This puts the record right and undoes no reading. If the wrong part is on the board, enter a rework instead.</p>
          <SelectField
            name="designator"
            label="Position"
            value={designator}
            onChange={(event) => setChosen(event.currentTarget.value)}
            options={filled.map((one) => ({ value: one.designator, label: `${one.designator}, ${one.part}` }))}
          />
          <p className="small">
            The record says <span className="code">{holds.piece ?? holds.batch}</span>.
          </p>
          {others.length > 0 ? (
            <>
              <SelectField name={sources.of} label="What is really there" options={others} />
              <TextField name="reason" label="What was mistyped" />
              <SubmitButton>Correct the fitting</SubmitButton>
            </>
          ) : (
            <p>No other {sources.of === 'pieceTag' ? 'piece' : 'batch'} of this part is in hand. Log it first if it is missing there.</p>
          )}
        </CommandForm>
      </details>
    </section>
  )
}
