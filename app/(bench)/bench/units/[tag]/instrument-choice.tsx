'use client'

import { useEffect, useState } from 'react'
import { Field } from '#app/_ui/forms/field.tsx'
import { halfWidth, readAccuracy } from '#bench/units/accuracy.rules'
import { type Doubt, instrumentDoubt, likelyResolution } from '#bench/units/doubt.rules'
import { cannotDecide } from '#bench/units/verdict.rules'
import type { CheckView } from '#bench/units/view.contract'
import styles from './reading.module.css'
import type { Instruments } from './types'

type Instrument = Instruments[number]

/** Remembers, for each unit of measure, what was used last; else the one that fits best. */
export function useInstrument(
  instruments: Instruments,
  check: CheckView,
): { instrument: Instrument | undefined; choose(id: string): void } {
  const place = `instrument:${check.unit}`
  const [id, setId] = useState<string | null>(null)
  useEffect(() => setId(localStorage.getItem(place)), [place])
  const usual = usualFor(instruments, check)
  const instrument = id === '' ? undefined : (instruments.find((one) => one.id === id) ?? usual)
  const choose = (chosen: string) => {
    localStorage.setItem(place, chosen)
    setId(chosen)
  }
  return { instrument, choose }
}

/** The one that is made for it with the least doubt where the check is decided; else any that states an accuracy for it. */
export function usualFor(
  instruments: Instruments,
  check: Pick<CheckView, 'unit' | 'nominal' | 'lower' | 'upper' | 'decimals'> & Partial<Pick<CheckView, 'frequency'>>,
): Instrument | undefined {
  const value = Math.max(...[check.nominal, check.lower, check.upper].map((figure) => Math.abs(figure ?? 0)))
  const fitting = instruments.flatMap((one) => {
    const read = readAccuracy(one.accuracy)
    const doubt = read.ok
      ? halfWidth(read.terms, { value, resolution: likelyResolution(check), unit: check.unit, frequency: check.frequency }, read.counts)
      : null
    return doubt === null ? [] : [{ one, doubt, forAll: isMadeForIt(one) ? 0 : 1 }]
  })
  return fitting.sort((a, b) => a.forAll - b.forAll || a.doubt - b.doubt)[0]?.one
}

/** It names the quantity, where another states one accuracy for everything. */
function isMadeForIt({ accuracy }: Instrument): boolean {
  const read = readAccuracy(accuracy)
  return read.ok && read.terms.every(({ quantity, fixedIn }) => quantity !== null || fixedIn !== null)
}

export interface InstrumentChoiceProps {
  instruments: Instruments
  check: CheckView
  /** How the design judges: only the simple rule reads without an instrument. */
  rule: string
  /** What is typed, once it can be read: the doubt is told for it, and before that near the nominal. */
  read: { value: number; resolution: number; repeats?: readonly number[] } | null
  chosen: Instrument | undefined
  choose(id: string): void
}

/** Which instrument, what its doubt is near the nominal, and whether that can decide the check at all. */
export function InstrumentChoice({ instruments, check, rule, read, chosen, choose }: InstrumentChoiceProps) {
  const near = check.nominal ?? check.upper ?? check.lower ?? 0
  const at = read ?? { value: near, resolution: likelyResolution(check) }
  const doubt = chosen ? instrumentDoubt(at, check, chosen, read?.repeats) : null
  const blunt = doubt !== null && typeof doubt !== 'string' && cannotDecide(check, doubt.expanded)
  return (
    <Field
      name="instrumentId"
      label="Instrument"
      optional={rule === 'simple'}
      hint={
        doubt === null
          ? undefined
          : typeof doubt === 'string'
            ? doubt
            : `±${figure(doubt.expanded)} ${check.unit} ${read ? 'for this reading' : `near ${near}`} (k = 2${doubt.shape === 'rectangle' ? ', which is 1.15 a' : ''})`
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
          {doubt !== null && typeof doubt !== 'string' && <Budget doubt={doubt} unit={check.unit} />}
          {chosen?.isOverdue && <p className={styles.lost}>It is past the date of its next check. The reading will say so permanently.</p>}
          {blunt && <p className={styles.lost}>Its doubt is as wide as the limits: it cannot decide this check. Choose a finer one.</p>}
        </>
      )}
    </Field>
  )
}

/** The uncertainty budget of the reading, line by line, as far as a maker's statement goes. */
function Budget({ doubt, unit }: { doubt: Doubt; unit: string }) {
  const a = doubt.lines.reduce((sum, { halfWidth: part }) => sum + part, 0)
  return (
    <details>
      <summary>Where the doubt comes from</summary>
      <table className={styles.budget}>
        <caption className="visually-hidden">Uncertainty budget of the reading</caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            <th scope="col" className="num">
              ± {unit}
            </th>
          </tr>
        </thead>
        <tbody>
          {doubt.lines.map(({ words, halfWidth: part }) => (
            <tr key={words}>
              <th scope="row">{words}</th>
              <td className="num">{figure(part)}</td>
            </tr>
          ))}
          <tr>
            <th scope="row">a, their sum: the true value lies within ±a (rectangular)</th>
            <td className="num">{figure(a)}</td>
          </tr>
          {doubt.shape === 'normal' && (
            <tr>
              <th scope="row">a/√3, from the instrument</th>
              <td className="num">{figure(a / Math.sqrt(3))}</td>
            </tr>
          )}
          {doubt.further.map(({ words, standard }) => (
            <tr key={words}>
              <th scope="row">{words}, as a standard uncertainty</th>
              <td className="num">{figure(standard)}</td>
            </tr>
          ))}
          <tr>
            <th scope="row">standard uncertainty u{doubt.shape === 'rectangle' ? ' = a/√3' : ', the root of the sum of these squares'}</th>
            <td className="num">{figure(doubt.standard)}</td>
          </tr>
          <tr>
            <th scope="row">expanded U = 2u</th>
            <td className="num">{figure(doubt.expanded)}</td>
          </tr>
        </tbody>
      </table>
    </details>
  )
}

const figure = (value: number) => String(Number(value.toPrecision(2)))
