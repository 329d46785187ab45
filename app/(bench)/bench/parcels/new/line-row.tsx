'use client'

import { NumberStepper } from '#app/_ui/forms/number-stepper.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { OnlyFor } from '#app/(bench)/bench/donors/only-for.tsx'
import { againstPromise, type DraftLine, type Known, partMeant } from './draft.rules'
import styles from './parcel.module.css'

interface LineRowProps {
  line: DraftLine
  place: number
  known: Known
  onChange: (change: Partial<DraftLine>) => void
  onRemove: () => void
}

/** One thing that came: what was promised with its count, or whatever else was in the box. */
export function LineRow({ line, place, known, onChange, onRemove }: LineRowProps) {
  const promise = known.promises.find(({ giftId }) => giftId === line.promiseId)
  const isInCatalogue = partMeant(line.what, known) !== undefined
  return (
    <fieldset className={styles.line}>
      <legend className="visually-hidden">{line.what === '' ? `Thing ${place + 1}` : line.what}</legend>
      <div className={promise ? styles.promised : 'stack close'}>
        {promise ? (
          <div>
            <b>{line.what}</b>
            <p className="small quiet">
              {whatItIsFor(promise.waiting, promise.quantity)} <b>{againstPromise(line.quantity, promise.quantity)}</b>
            </p>
          </div>
        ) : (
          <TextField
            name={`lines.${place}.words`}
            label="What is it?"
            value={line.what}
            onChange={(event) => onChange({ what: event.currentTarget.value })}
            list="catalogue"
            autoComplete="off"
            maxLength={200}
            hint={
              line.what === ''
                ? undefined
                : isInCatalogue
                  ? 'In the catalogue, so it becomes a batch.'
                  : 'Not in the catalogue, so it is recorded as you wrote it.'
            }
          />
        )}
        <NumberStepper
          name={`lines.${place}.quantity`}
          label={promise ? `Came, of ${promise.quantity}` : 'How many?'}
          defaultValue={Number(line.quantity) || 0}
          min={promise ? 0 : 1}
          max={1_000_000}
          thing={line.what || 'piece'}
          onCount={(count) => onChange({ quantity: Number.isNaN(count) ? '' : String(count) })}
        />
      </div>
      <details>
        <summary>Marking, date code, only for one machine</summary>
        <div className="stack close">
          <TextField
            name={`lines.${place}.marking`}
            label="Marking on the parts"
            optional
            mono
            width="short"
            value={line.marking}
            onChange={(event) => onChange({ marking: event.currentTarget.value })}
          />
          <TextField
            name={`lines.${place}.dateCode`}
            label="Date code"
            hint="As printed, such as 2431."
            optional
            mono
            width="code"
            value={line.dateCode}
            onChange={(event) => onChange({ dateCode: event.currentTarget.value })}
          />
          <OnlyFor name={`lines.${place}.onlyFor`} goals={known.goals} value={line.onlyFor} onChange={(onlyFor) => onChange({ onlyFor })} />
        </div>
      </details>
      {!promise && place > 0 && (
        <button type="button" className="button-line" onClick={onRemove}>
          Remove this line
        </button>
      )}
    </fieldset>
  )
}

function whatItIsFor(waiting: readonly string[], quantity: number): string {
  const [first] = waiting
  if (first === undefined) return 'No unit is waiting for it at the moment.'
  if (waiting.length === 1) return `For ${first}, which is waiting for ${quantity === 1 ? 'it' : 'them'}.`
  return `${waiting.length} units are waiting, ${first} first.`
}
