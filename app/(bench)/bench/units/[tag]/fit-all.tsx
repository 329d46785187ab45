'use client'

import Link from 'next/link'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { collapseDesignators } from '#stock/catalogue/designator.rules'
import { onlyBatches } from './only-batches.rules'
import type { Choices } from './types'

/** Every line that one batch alone can fill, in one go; and the list to pick them by. */
export function FitAll({ view, choices, seen, again }: { view: BringupView; choices: Choices; seen: string; again(): void }) {
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.bringup.fitAll.mutate)
  const rows = onlyBatches(view.positions, choices)
  return (
    <>
      <p>
        <Link href={`/bench/units/${view.tag}/pick`}>What to pick, and from where</Link>
      </p>
      {rows.length > 1 && (
        <details>
          <summary>
            Fit {rows.length} lines at once, each from its only batch: {rows.reduce((sum, { designators }) => sum + designators.length, 0)}{' '}
            positions
          </summary>
          <CommandForm
            label="Fit all lines from their only batch"
            pending={pending}
            refusal={refusal}
            run={(form) =>
              run({
                key,
                tag: view.tag,
                seen,
                iron: form.ticked('iron'),
                rows: rows.map(({ designators, batchId }) => ({ designators, batchId })),
              })
            }
            onDone={() => {
              renew()
              again()
            }}
          >
            <ul className="plain-list">
              {rows.map(({ batchId, code, part, designators }) => (
                <li key={`${batchId} ${designators[0]}`}>
                  <span className="code several">{collapseDesignators(designators)}</span> {part}{' '}
                  <span className="quiet">
                    from <span className="code">{code}</span>
                  </span>
                </li>
              ))}
            </ul>
            <CheckField name="iron" label="An iron was used" defaultChecked />
            <SubmitButton>Fit all of these</SubmitButton>
          </CommandForm>
        </details>
      )}
    </>
  )
}
