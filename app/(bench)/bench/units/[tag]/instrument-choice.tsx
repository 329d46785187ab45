'use client'

import { useEffect, useState } from 'react'
import { halfWidth, readAccuracy } from '../../../../../server/units/accuracy.rules'
import { doubtOf } from '../../../../../server/units/reading.rules'
import { cannotDecide } from '../../../../../server/units/verdict.rules'
import type { CheckView } from '../../../../../server/units/view.contract'
import { Field } from '../../../../_ui/forms/field'
import type { Instruments } from './types'
import styles from './unit.module.css'

type Instrument = Instruments[number]

/** Remembers, for each unit of measure, what was used last; else the first that states an accuracy for it. */
export function useInstrument(
  instruments: Instruments,
  check: CheckView,
): { instrument: Instrument | undefined; choose(id: string): void } {
  const place = `instrument:${check.unit}`
  const [id, setId] = useState<string | null>(null)
  useEffect(() => setId(localStorage.getItem(place)), [place])
  const fitting = instruments.filter((one) => isFor(one, check.unit))
  const usual = fitting.find(isMadeForIt) ?? fitting[0]
  const instrument = id === '' ? undefined : (instruments.find((one) => one.id === id) ?? usual)
  const choose = (chosen: string) => {
    localStorage.setItem(place, chosen)
    setId(chosen)
  }
  return { instrument, choose }
}

function isFor({ accuracy }: Instrument, unit: string): boolean {
  const read = readAccuracy(accuracy)
  return read.ok && halfWidth(read.terms, { value: 1, resolution: 1, unit }) !== null
}

/** It names the quantity, where another states one accuracy for everything. */
function isMadeForIt({ accuracy }: Instrument): boolean {
  const read = readAccuracy(accuracy)
  return read.ok && read.terms.every(({ quantity, fixedIn }) => quantity !== null || fixedIn !== null)
}

export interface InstrumentChoiceProps {
  instruments: Instruments
  check: CheckView
  chosen: Instrument | undefined
  choose(id: string): void
}

/** Which instrument, what its doubt is near the nominal, and whether that can decide the check at all. */
export function InstrumentChoice({ instruments, check, chosen, choose }: InstrumentChoiceProps) {
  const near = check.nominal ?? check.upper ?? check.lower ?? 0
  const doubt = chosen ? doubtOf({ value: near, resolution: 10 ** -check.decimals }, check.unit, chosen) : null
  const blunt = doubt !== null && typeof doubt !== 'string' && cannotDecide(check, doubt.expanded)
  return (
    <Field
      name="instrumentId"
      label="Instrument"
      optional
      hint={
        doubt === null
          ? undefined
          : typeof doubt === 'string'
            ? doubt
            : `±${doubt.expanded.toPrecision(2)} ${check.unit} near ${near} (k = 2, which is 1.15 a)`
      }
    >
      {(wiring) => (
        <>
          <select
            id={wiring.id}
            aria-describedby={wiring.describedBy}
            className={styles.select}
            value={chosen?.id ?? ''}
            onChange={(event) => choose(event.currentTarget.value)}
          >
            <option value="">None</option>
            {instruments.map(({ id, name, isOverdue }) => (
              <option key={id} value={id}>
                {name}
                {isOverdue ? ' (past its date)' : ''}
              </option>
            ))}
          </select>
          {chosen?.isOverdue && <p className={styles.lost}>It is past the date of its next check. The reading will say so for ever.</p>}
          {blunt && <p className={styles.lost}>Its doubt is as wide as the limits: it cannot decide this check. Choose a finer one.</p>}
        </>
      )}
    </Field>
  )
}
