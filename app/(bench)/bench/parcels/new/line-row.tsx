'use client'

import { useId, useState } from 'react'
import { ErrorWords } from '#app/_ui/forms/field.tsx'
import { useWiring } from '#app/_ui/forms/form-context.ts'
import { NumberStepper } from '#app/_ui/forms/number-stepper.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { OnlyFor } from '#app/(bench)/bench/donors/only-for.tsx'
import { MeantParts } from '#app/(bench)/bench/parcels/meant-parts.tsx'
import { countSaid } from '#stock/donors/count-words.rules'
import { againstPromise, type DraftLine, type Known, partMeant } from './draft.rules'
import styles from './parcel.module.css'

interface LineRowProps {
  line: DraftLine
  place: number
  known: Known
  onChange: (change: Partial<DraftLine>) => void
  onRemove: () => void
}

/** One thing that came, in one line: what was promised with its count, or whatever else was in the box. */
export function LineRow({ line, place, known, onChange, onRemove }: LineRowProps) {
  const [isOpen, setOpen] = useState(false)
  const moreId = useId()
  const promise = known.promises.find(({ giftId }) => giftId === line.promiseId)
  const isInCatalogue = partMeant(line.what, known) !== undefined
  const name = line.what === '' ? `thing ${place + 1}` : line.what
  return (
    <fieldset className={styles.line}>
      <legend className="visually-hidden">{line.what === '' ? `Thing ${place + 1}` : line.what}</legend>
      <div className={styles.row}>
        {promise ? (
          <div className={styles.what}>
            <b>{line.what}</b>
            <span className="small quiet">
              {' '}
              {whatItIsFor(promise.waiting, promise.quantity)} <b>{againstPromise(line.quantity, promise.quantity)}</b>
            </span>
          </div>
        ) : (
          <WhatField line={line} place={place} onChange={onChange} />
        )}
        {promise ? (
          <NumberStepper
            name={`lines.${place}.quantity`}
            label={`Came, of ${promise.quantity}`}
            isLabelHidden
            defaultValue={line.quantity}
            min={0}
            max={1_000_000}
            thing={line.what || 'piece'}
            onType={(quantity) => onChange({ quantity })}
          />
        ) : (
          <CountField line={line} place={place} onChange={onChange} />
        )}
        <button
          type="button"
          className={styles.more}
          aria-expanded={isOpen}
          aria-controls={moreId}
          aria-label={`More about ${name}: marking, date code, only for one machine`}
          onClick={() => setOpen(!isOpen)}
        >
          ⋯
        </button>
      </div>
      {!promise && line.what !== '' && (
        <MeantParts
          typed={line.what}
          catalogue={known.parts}
          isKnown={isInCatalogue}
          chosen={line.fresh ?? null}
          onKnown={(words) => onChange({ what: words, fresh: null })}
          onFresh={(fresh) => onChange({ fresh })}
        />
      )}
      {isOpen && (
        <div id={moreId} className="stack close">
          <SelectField
            name={`lines.${place}.counted`}
            label="How many there are was"
            value={countSaid(line.quantity).howCounted}
            onChange={(event) => onChange({ quantity: recounted(line.quantity, event.currentTarget.value) })}
            options={[
              { value: 'counted', label: 'counted' },
              { value: 'about', label: 'guessed: about so many' },
              { value: 'not yet', label: 'not counted yet' },
            ]}
          />
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
          {!promise && (
            <button type="button" className="button-line" onClick={onRemove}>
              Remove this line
            </button>
          )}
        </div>
      )}
    </fieldset>
  )
}

interface CellProps {
  line: DraftLine
  place: number
  onChange: (change: Partial<DraftLine>) => void
}

function WhatField({ line, place, onChange }: CellProps) {
  const field = `lines.${place}.words`
  const { id, error } = useWiring(field, undefined)
  return (
    <div className={styles.what}>
      <label htmlFor={id} className="visually-hidden">
        What is it?
      </label>
      <ErrorWords id={id}>{error}</ErrorWords>
      <input
        id={id}
        name={field}
        type="text"
        className={styles.box}
        placeholder="What is it?"
        value={line.what}
        onChange={(event) => onChange({ what: event.currentTarget.value, fresh: null })}
        list="catalogue"
        autoComplete="off"
        maxLength={200}
        aria-invalid={error ? true : undefined}
        aria-describedby={error ? `${id}-error` : undefined}
      />
    </div>
  )
}

function CountField({ line, place, onChange }: CellProps) {
  const field = `lines.${place}.quantity`
  const { id, error } = useWiring(field, undefined)
  return (
    <div className={styles.count}>
      <label htmlFor={id} className="visually-hidden">
        How many?
      </label>
      <ErrorWords id={id}>{error}</ErrorWords>
      <input
        id={id}
        name={field}
        type="text"
        inputMode="numeric"
        className={styles.box}
        value={line.quantity}
        onChange={(event) => onChange({ quantity: event.currentTarget.value })}
        onFocus={(event) => event.currentTarget.select()}
        autoComplete="off"
        maxLength={40}
        aria-invalid={error ? true : undefined}
        aria-describedby={error ? `${id}-error` : undefined}
      />
    </div>
  )
}

/** The same count, said otherwise. */
function recounted(typed: string, how: string): string {
  const { quantity, howCounted } = countSaid(typed)
  const figure = howCounted === 'not yet' ? '1' : quantity
  return how === 'not yet' ? '?' : how === 'about' ? `ca. ${figure}` : figure
}

function whatItIsFor(waiting: readonly string[], quantity: number): string {
  const [first] = waiting
  if (first === undefined) return 'No unit is waiting for it at the moment.'
  if (waiting.length === 1) return `For ${first}, which is waiting for ${quantity === 1 ? 'it' : 'them'}.`
  return `${waiting.length} units are waiting, ${first} first.`
}
