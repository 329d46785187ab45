'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CheckboxGroup, CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField } from '#app/_ui/forms/text-fields.tsx'
import type { PositionView } from '#bench/units/view.contract'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { collapseDesignators } from '#stock/catalogue/designator.rules'
import { FitAll } from './fit-all'
import styles from './fit-sheet.module.css'
import type { Choices } from './types'

/** What is still empty, part by part, and what in hand could go in. */
export function FitSheet({ view, choices, seen, again }: { view: BringupView; choices: Choices; seen: string; again(): void }) {
  const empty = view.positions.filter(({ holds }) => holds === null)
  if (empty.length === 0) return null
  const parts = [...new Set(empty.filter(({ mayFit }) => mayFit).map(({ partId }) => partId))]
  const later = empty.filter(({ mayFit }) => !mayFit)
  return (
    <section className="sheet stack" aria-labelledby="fit">
      <h2 id="fit">
        Fit{' '}
        <span className="small quiet">
          {empty.length} of {view.positions.length} positions are empty
        </span>
      </h2>
      <FitAll view={view} choices={choices} seen={seen} again={again} />
      {parts.map((partId) => (
        <FitPart
          key={partId}
          view={view}
          seen={seen}
          again={again}
          positions={empty.filter((position) => position.partId === partId && position.mayFit)}
          choice={choices.find((choice) => choice.partId === partId)}
        />
      ))}
      {later.map(({ designator, part, fittedAfter }) => (
        <p key={designator} className="small quiet">
          <span className="code">{designator}</span> {part}: after {fittedAfter}
        </p>
      ))}
    </section>
  )
}

interface FitPartProps {
  view: BringupView
  seen: string
  positions: PositionView[]
  choice: Choices[number] | undefined
  again(): void
}

function FitPart({ view, seen, positions, choice, again }: FitPartProps) {
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.bringup.fit.mutate)
  const first = positions[0]
  if (!first) return null
  const pieces = choice?.pieces ?? []
  const options = (choice?.batches ?? []).map(({ id, code, inHand, words }) => ({
    value: id,
    label: `${code}, ${inHand} in hand${words ? `, ${words}` : ''}`,
  }))
  const asksInstead = refusal?.fields.confirmInstead !== undefined
  const needsYes = refusal?.fields.confirmUndo !== undefined
  return (
    <details className={styles.fit} name="fit">
      <summary>
        <b>{positions.length} ×</b> {first.part}{' '}
        <span className="code several small">{collapseDesignators(positions.map((one) => one.designator))}</span>
        {options.length === 0 && <span className={styles.inHand}>none in hand</span>}
      </summary>
      {options.length === 0 ? (
        <p className="small">Log a parcel or a purchase of this part first.</p>
      ) : (
        <CommandForm
          label={`Fit ${first.part}`}
          pending={pending}
          refusal={refusal}
          run={(form) =>
            run({
              key,
              tag: view.tag,
              seen,
              designators: form.list('designators'),
              iron: form.ticked('iron'),
              confirmUndo: form.ticked('confirmUndo'),
              confirmInstead: form.ticked('confirmInstead'),
              ...(form.maybe('pieceTag') === undefined ? { batchId: form.text('batchId') } : { pieceTag: form.text('pieceTag') }),
            })
          }
          onDone={() => {
            renew()
            again()
          }}
        >
          <CheckboxGroup
            name="designators"
            label="Positions"
            choices={positions.map(({ designator }) => ({ value: designator, label: <span className="code">{designator}</span> }))}
            defaultValues={positions.map(({ designator }) => designator)}
          />
          {pieces.length > 0 ? (
            <SelectField
              name="pieceTag"
              label="Piece"
              options={pieces.map(({ tag, verdict }) => ({ value: tag, label: `${tag}, ${verdict}` }))}
              hint={first.isProgrammed ? 'Only a piece whose image has been read and is right can go in.' : undefined}
            />
          ) : (
            <SelectField name="batchId" label="From batch" options={options} />
          )}
          {pieces.length > 0 && <p className="small quiet">Pieces with tags go in one at a time: leave one position ticked.</p>}
          <CheckField name="iron" label="An iron was used" defaultChecked />
          {asksInstead && <CheckField name="confirmInstead" label="Yes, let it stand in on this line of the list" />}
          {needsYes && <CheckField name="confirmUndo" label="Yes, undo those readings" />}
          <SubmitButton>Fit</SubmitButton>
        </CommandForm>
      )}
    </details>
  )
}
