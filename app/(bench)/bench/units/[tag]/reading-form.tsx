'use client'

import { type FormEvent, useEffect, useId, useMemo, useRef } from 'react'
import { FormContext } from '#app/_ui/forms/form-context.ts'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { useTypedText } from '#app/_ui/forms/use-typed-text.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { TextButton } from '#app/_ui/text-button.tsx'
import { useReadingBox } from '#app/(bench)/bench/units/_waiting/reading-box.ts'
import { readFigures } from '#bench/units/repeats.rules'
import type { CheckView } from '#bench/units/view.contract'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { BESIDE, BesideReading } from './beside-reading'
import { EntryBox } from './entry-box'
import { InstrumentChoice, useInstrument } from './instrument-choice'
import { LimitsLine, LiveGauge } from './live-gauge'
import styles from './reading.module.css'
import { ThousandQuestion } from './thousand-question'
import type { Instruments } from './types'
import { useDroppedPhotograph } from './use-dropped-photograph'
import { photoSlot, type ReadingOf, useReading } from './use-reading'

const BESIDE_KEPT = ['reason', ...BESIDE]

export interface ReadingFormProps extends Omit<ReadingOf, 'instrument' | 'form'> {
  view: BringupView
  check: CheckView
  instruments: Instruments
}

/** Type the figure as on the meter, Enter, and the next check is there. */
export function ReadingForm({ view, check, corrects, searches, seen, instruments, hand, onKept }: ReadingFormProps) {
  const id = useId()
  const box = useRef<HTMLInputElement>(null)
  const form = useRef<HTMLFormElement>(null)
  const { instrument, choose } = useInstrument(instruments, check)
  const { send, judge, pending, refusal, asked, odd, error, takes } = useReading({
    view,
    check,
    corrects,
    searches,
    seen,
    instrument,
    hand,
    form,
    onKept,
  })
  // The figure itself is kept by `hand`, which knows for which check it was typed.
  const { forget } = useTypedText(form, `${corrects ? 'Correction' : 'Reading'} of ${check.key}`, BESIDE_KEPT)
  const forgetBeside = useRef(forget)
  forgetBeside.current = forget
  useEffect(() => {
    if (takes > 0) forgetBeside.current()
  }, [takes])
  const fields = useMemo(() => ({ prefix: id, errors: refusal?.fields ?? {}, pending }), [id, refusal, pending])
  // A box for one letter need not bring up a phone's keyboard: its two buttons are nearer.
  const isTapped = check.kind === 'yesno'
  useEffect(() => {
    if (!isTapped || matchMedia('(pointer: fine)').matches) box.current?.focus({ preventScroll: true })
  }, [isTapped])
  const photograph = useDroppedPhotograph(takes)
  const waits = useReadingBox()?.waiting.find((one) => one.tag === view.tag && one.check === check.key && one.reading !== null)
  const isBeside = error !== null && BESIDE_KEPT.includes(error.field)
  const submit = (event: FormEvent) => {
    event.preventDefault()
    send(hand.typed.entry)
  }
  const live = judge(hand.typed, asked === null ? undefined : 'as-written')
  const shown = live.ok ? live.judged : null
  // A yes or a no is sent as it is pressed, so what goes with it stands before.
  const beside = (
    <FormContext value={fields}>
      {corrects && (
        <TextField
          key={`reason ${takes}`}
          name="reason"
          label="Why you are correcting it"
          hint="The earlier reading stays in the record with this reason."
        />
      )}
      <BesideReading key={takes} errors={fields.errors} dropped={photograph.file} slot={photoSlot(view.tag, check.key, corrects)} />
    </FormContext>
  )
  return (
    <form
      ref={form}
      onSubmit={submit}
      {...photograph.handlers}
      noValidate
      aria-label={`${corrects ? 'Correction' : 'Reading'} of ${check.key}`}
      className="stack"
    >
      {error && (
        <p id={`${id}-error`} role="alert" className={isBeside ? 'visually-hidden' : styles.error}>
          {error.words}
        </p>
      )}
      {waits && (
        <Notice tone="doubt" live="status">
          <p>
            {waits.shown} for {check.key} is on this device and is sent when the house can be reached. What comes next is known then.
          </p>
        </Notice>
      )}
      {hand.meanwhile !== null && !pending && (
        <Notice live="status">
          <p>{hand.meanwhile}</p>
          <TextButton press={hand.leave}>Discard mine and go on</TextButton>
        </Notice>
      )}
      {check.kind === 'yesno' && beside}
      <EntryBox
        check={check}
        typed={hand.typed}
        setTyped={hand.type}
        box={box}
        id={id}
        wrong={error !== null && !isBeside}
        answer={(entry) => send(entry)}
      />
      {odd !== null && (
        <fieldset className={styles.question}>
          <legend>{odd}</legend>
          <button type="button" className="button-line" onClick={() => send(hand.typed.entry, 'odd')}>
            Yes, it shows that
          </button>
        </fieldset>
      )}
      {asked !== null && <ThousandQuestion asked={asked} answer={(which) => send(hand.typed.entry, which)} />}
      {check.kind === 'measure' && <LiveGauge check={check} shown={shown} />}
      <LimitsLine check={check} shown={shown} />
      {check.lost !== null && <p className={styles.lost}>To be taken again. {check.lost}.</p>}
      {check.kind === 'measure' && (
        <InstrumentChoice
          instruments={instruments}
          check={check}
          rule={view.design.decisionRule}
          read={readFigures(hand.typed.entry, check.unit)}
          chosen={instrument}
          choose={choose}
        />
      )}
      {corrects && view.certificate !== null && check.reading !== null && check.reading.at <= (view.certifiedAt ?? 0) && (
        <Notice tone="doubt" title={`Correcting it withdraws ${view.certificate}`}>
          <p>
            What it says of {check.key} would no longer be right. {check.key} has to be taken again before another certificate is issued,
            and an open lot goes on hold.
          </p>
        </Notice>
      )}
      {check.kind !== 'yesno' && beside}
      {check.onFailure !== '' && (
        <details>
          <summary>If it fails</summary>
          <p>{check.onFailure}</p>
        </details>
      )}
      <div className="row">
        <SubmitButton pending={pending} kind={check.kind === 'yesno' ? 'line' : undefined}>
          {corrects ? 'Correct the reading' : 'Save the reading'}
        </SubmitButton>
      </div>
    </form>
  )
}
