'use client'

import { useRouter } from 'next/navigation'
import { type FormEvent, useEffect, useId, useMemo, useRef, useState } from 'react'
import type { BringupView } from '../../../../../server/bringup/bringup.contract'
import type { DecisionRule } from '../../../../../server/designs/design.contract'
import { judgeReading } from '../../../../../server/units/reading.rules'
import type { CheckView } from '../../../../../server/units/view.contract'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { useFormKey } from '../../../../_trpc/use-form-key'
import { FormContext } from '../../../../_ui/forms/form-context'
import { readForm } from '../../../../_ui/forms/form-values'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { TextField } from '../../../../_ui/forms/text-fields'
import { Gauge } from '../../../../_ui/gauge'
import { BESIDE, BesideReading, readBeside } from './beside-reading'
import { EntryBox, type Typed } from './entry-box'
import { InstrumentChoice, useInstrument } from './instrument-choice'
import type { Kept } from './next-sheet'
import { ThousandQuestion } from './thousand-question'
import type { Instruments } from './types'
import styles from './unit.module.css'

export interface ReadingFormProps {
  view: BringupView
  check: CheckView
  /** Puts the reading that stands right, with a reason, instead of taking one. */
  corrects: boolean
  seen: string
  instruments: Instruments
  onKept(kept: Kept): void
}

/** Type the figure as on the meter, Enter, and the next check is there. */
export function ReadingForm({ view, check, corrects, seen, instruments, onKept }: ReadingFormProps) {
  const router = useRouter()
  const id = useId()
  const { key, renew } = useFormKey()
  const read = useCommand(api.bringup.read.mutate)
  const correct = useCommand(api.bringup.correct.mutate)
  const { pending, refusal } = corrects ? correct : read
  const [typed, setTyped] = useState<Typed>({ entry: '', hours: '', starts: '' })
  const [asked, setAsked] = useState<string | null>(null)
  const box = useRef<HTMLInputElement>(null)
  const form = useRef<HTMLFormElement>(null)
  const fields = useMemo(() => ({ prefix: id, errors: refusal?.fields ?? {}, pending }), [id, refusal, pending])
  const { instrument, choose } = useInstrument(instruments, check)
  useEffect(() => box.current?.focus({ preventScroll: true }), [])

  const rule = view.design.decisionRule as DecisionRule
  const judge = (confirm?: 'as-written' | 'shifted') =>
    judgeReading({ check, rule, ...typed, instrument: instrument ?? null, confirmThousand: confirm })
  const [said, setSaid] = useState<{ field: string; words: string } | null>(null)
  const error = said ?? (refusal && { field: Object.keys(refusal.fields)[0] ?? 'form', words: refusal.words })

  const isBeside = error !== null && ['reason', ...BESIDE].includes(error.field)

  const send = async (entry: string, confirm?: 'as-written' | 'shifted') => {
    const mine = judgeReading({ check, rule, ...typed, entry, instrument: instrument ?? null, confirmThousand: confirm })
    setAsked(!mine.ok && mine.field === 'confirmThousand' ? mine.words : null)
    setSaid(mine.ok || mine.field === 'confirmThousand' ? null : mine)
    if (!mine.ok) return
    const soak = check.kind === 'soak' ? { hours: typed.hours, starts: typed.starts } : {}
    const instrumentId = check.kind === 'measure' ? instrument?.id : undefined
    const values = readForm(new FormData(form.current ?? undefined))
    const common = {
      key,
      tag: view.tag,
      seen,
      check: check.key,
      entry,
      instrumentId,
      confirmThousand: confirm,
      ...soak,
      ...readBeside(values),
    }
    const answer = corrects ? await correct.run({ ...common, reason: values.text('reason') }) : await read.run(common)
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
  // A yes or a no is sent as it is pressed, so what goes with it stands before.
  const beside = (
    <FormContext value={fields}>
      {corrects && (
        <TextField
          key={`${key} reason`}
          name="reason"
          label="Why it is corrected"
          hint="The earlier reading stays in the record with this reason."
        />
      )}
      <BesideReading key={key} errors={fields.errors} />
    </FormContext>
  )
  return (
    <form ref={form} onSubmit={submit} noValidate aria-label={`${corrects ? 'Correction' : 'Reading'} of ${check.key}`} className="stack">
      {error && (
        <p id={`${id}-error`} role="alert" className={isBeside ? 'visually-hidden' : styles.error}>
          {error.words}
        </p>
      )}
      {check.kind === 'yesno' && beside}
      <EntryBox
        check={check}
        typed={typed}
        setTyped={setTyped}
        box={box}
        id={id}
        wrong={error !== null && !isBeside}
        answer={(entry) => void send(entry)}
      />
      {asked !== null && <ThousandQuestion asked={asked} answer={(which) => void send(typed.entry, which)} />}
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
      {check.kind !== 'yesno' && beside}
      {check.onFailure !== '' && (
        <details>
          <summary>If it fails</summary>
          <p>{check.onFailure}</p>
        </details>
      )}
      {check.kind !== 'yesno' && (
        <div className={styles.actions}>
          <SubmitButton pending={pending}>{corrects ? 'Correct the reading' : 'Keep the reading'}</SubmitButton>
        </div>
      )}
    </form>
  )
}
