'use client'

import { useRouter } from 'next/navigation'
import { type FormEvent, useEffect, useId, useRef, useState } from 'react'
import type { BringupView } from '../../../../../server/bringup/bringup.contract'
import type { DecisionRule } from '../../../../../server/designs/design.contract'
import { judgeReading } from '../../../../../server/units/reading.rules'
import type { CheckView } from '../../../../../server/units/view.contract'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { Gauge } from '../../../../_ui/gauge'
import { useFormKey } from '../../money/use-form-key'
import { EntryBox, type Typed } from './entry-box'
import { InstrumentChoice, useInstrument } from './instrument-choice'
import type { Kept } from './next-sheet'
import type { Instruments } from './types'
import styles from './unit.module.css'

export interface ReadingFormProps {
  view: BringupView
  check: CheckView
  seen: string
  instruments: Instruments
  onKept(kept: Kept): void
}

/** Type the figure as on the meter, Enter, and the next check is there. */
export function ReadingForm({ view, check, seen, instruments, onKept }: ReadingFormProps) {
  const router = useRouter()
  const id = useId()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.bringup.read.mutate)
  const [typed, setTyped] = useState<Typed>({ entry: '', hours: '', starts: '' })
  const [asked, setAsked] = useState<string | null>(null)
  const box = useRef<HTMLInputElement>(null)
  const { instrument, choose } = useInstrument(instruments, check)
  useEffect(() => box.current?.focus({ preventScroll: true }), [])

  const rule = view.design.decisionRule as DecisionRule
  const judge = (confirm?: 'as-written' | 'shifted') =>
    judgeReading({ check, rule, ...typed, instrument: instrument ?? null, confirmThousand: confirm })
  const [said, setSaid] = useState<{ field: string; words: string } | null>(null)
  const error = said ?? (refusal && { field: Object.keys(refusal.fields)[0] ?? 'form', words: refusal.words })

  const send = async (entry: string, confirm?: 'as-written' | 'shifted') => {
    const mine = judgeReading({ check, rule, ...typed, entry, instrument: instrument ?? null, confirmThousand: confirm })
    setAsked(!mine.ok && mine.field === 'confirmThousand' ? mine.words : null)
    setSaid(mine.ok || mine.field === 'confirmThousand' ? null : mine)
    if (!mine.ok) return
    const soak = check.kind === 'soak' ? { hours: typed.hours, starts: typed.starts } : {}
    const instrumentId = check.kind === 'measure' ? instrument?.id : undefined
    const answer = await run({ key, tag: view.tag, seen, check: check.key, entry, instrumentId, confirmThousand: confirm, ...soak })
    if (!answer) return
    renew()
    setTyped({ entry: '', hours: '', starts: '' })
    onKept(answer)
    router.refresh()
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    void send(typed.entry)
  }
  const live = judge(asked === null ? undefined : 'as-written')
  const shown = live.ok ? live.judged : null
  return (
    <form onSubmit={submit} noValidate aria-label={`Reading of ${check.key}`} className="stack">
      {error && (
        <p id={`${id}-error`} role="alert" className={styles.error}>
          {error.words}
        </p>
      )}
      <EntryBox
        check={check}
        typed={typed}
        setTyped={setTyped}
        box={box}
        id={id}
        wrong={error !== null}
        answer={(entry) => void send(entry)}
      />
      {asked !== null && (
        <fieldset className={styles.question}>
          <legend>{asked}</legend>
          {(['as-written', 'shifted'] as const).map((which, index) => (
            <button
              key={which}
              type="button"
              className={index === 0 ? 'button-line' : 'button'}
              onClick={() => void send(typed.entry, which)}
            >
              {asked.replace('?', '').split(' or ')[index]}
            </button>
          ))}
        </fieldset>
      )}
      {check.kind === 'measure' && (
        <Gauge
          name={check.title}
          unit={check.unit}
          size="wide"
          value={shown?.value ?? check.reading?.value ?? check.nominal ?? check.upper ?? check.lower ?? 0}
          nominal={check.nominal}
          lower={check.lower}
          upper={check.upper}
          doubt={shown ? shown.expandedUncertainty : (check.reading?.doubt ?? null)}
          verdict={shown?.verdict ?? check.reading?.verdict ?? null}
        />
      )}
      <p className={styles.limits}>
        {check.kind === 'yesno' || check.kind === 'match' ? '' : 'limits '}
        {check.limits}
        {check.reference && ` · ${check.reference.tag} read ${check.reference.entry}`}
        {check.reading && ` · stands at ${check.reading.entry}`}
      </p>
      {check.lost !== null && <p className={styles.lost}>To be taken again. {check.lost}.</p>}
      {check.kind === 'measure' && <InstrumentChoice instruments={instruments} check={check} chosen={instrument} choose={choose} />}
      {check.onFailure !== '' && (
        <details>
          <summary>If it fails</summary>
          <p>{check.onFailure}</p>
        </details>
      )}
      {check.kind !== 'yesno' && (
        <div className={styles.actions}>
          <SubmitButton pending={pending}>Keep the reading</SubmitButton>
        </div>
      )}
    </form>
  )
}
