'use client'

import { type RefObject, useRef, useState } from 'react'
import { refusedBy, useCommand } from '#app/_trpc/use-command.ts'
import { makeKey } from '#app/_trpc/use-form-key.ts'
import { readForm } from '#app/_ui/forms/form-values.ts'
import { useHouseNow } from '#app/_ui/use-house-now.ts'
import { layBy, type ReadingToSend } from '#app/(bench)/bench/units/_waiting/reading-box.ts'
import { post as postReading } from '#app/(bench)/bench/units/_waiting/send-reading.ts'
import type { DecisionRule } from '#bench/designs/design.contract'
import { judgeReading } from '#bench/units/reading.rules'
import { type SoakSeen, seenOf } from '#bench/units/soak.rules'
import type { CheckView } from '#bench/units/view.contract'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { readBeside } from './beside-reading'
import type { Kept } from './kept-reading'
import type { Instruments } from './types'
import type { AtHand, Typed } from './use-at-hand'

export interface ReadingOf {
  view: BringupView
  check: CheckView
  /** Puts the reading that stands right, with a reason, instead of taking one. */
  corrects: boolean
  /** A fault is searched: only safety binds, and the reading is marked where its other needs are not met. */
  searches?: boolean
  seen: string
  instrument: Instruments[number] | undefined
  hand: AtHand
  form: RefObject<HTMLFormElement | null>
  onKept(kept: Kept & { view: BringupView }, sent: Typed): void
}

type Confirm = 'as-written' | 'shifted' | 'odd'

/** Judges what is typed as the house will, asks what must be asked, sends it, and says what came of it. */
export function useReading({ view, check, corrects, searches = false, seen, instrument, hand, form, onKept }: ReadingOf) {
  const { run, pending, refusal } = useCommand(postOrWait)
  const [asked, setAsked] = useState<string | null>(null)
  const [odd, setOdd] = useState<string | null>(null)
  const [said, setSaid] = useState<{ field: string; words: string } | null>(null)
  const [takes, setTakes] = useState(0)
  // Kept for a retry, so that it has one effect; new after it was taken.
  const key = useRef('')
  const onTheWay = useRef<{ last: string | null; done: Promise<void> }>({ last: null, done: Promise.resolve() })
  const now = useHouseNow(view.servedAt, null)
  const judge = (typed: Typed, confirm?: Confirm) =>
    judgeReading({
      check,
      rule: view.design.decisionRule as DecisionRule,
      ...typed,
      instrument: instrument ?? null,
      ...confirmed(confirm),
      soakSeen: soakOf(check, corrects, view.soak, now),
    })

  const post = async (typed: Typed, confirm: Confirm | undefined, values: ReturnType<typeof readForm>) => {
    key.current ||= makeKey()
    const content = {
      key: key.current,
      tag: view.tag,
      seen,
      check: check.key,
      entry: typed.entry,
      instrumentId: check.kind === 'measure' ? instrument?.id : undefined,
      ...confirmed(confirm),
      ...(check.kind === 'soak' ? { hours: typed.hours, starts: typed.starts, isStated: typed.isStated } : {}),
      ...readBeside(values),
    }
    const reading: ReadingToSend = corrects
      ? { is: 'correction', content: { ...content, reason: values.text('reason') } }
      : { is: searches ? 'searching' : 'taken', content }
    const answer = await run(reading)
    if (!answer) return
    key.current = ''
    setTakes((before) => before + 1)
    const place = { tag: view.tag, check: check.key, shown: shownOf(check, typed) }
    if (answer === 'waits') {
      layBy({ ...place, reading, readingId: null }, photoSlot(view.tag, check.key, corrects))
      hand.done(typed)
      return
    }
    layBy({ ...place, reading: null, readingId: answer.readingId }, photoSlot(view.tag, check.key, corrects))
    onKept(answer, typed)
  }

  const send = (entry: string, confirm?: Confirm) => {
    const typed = { ...hand.typed, entry }
    const mine = judge(typed, confirm)
    setAsked(!mine.ok && mine.field === 'confirmThousand' ? mine.words : null)
    setOdd(!mine.ok && mine.field === 'confirmOdd' ? mine.words : null)
    setSaid(mine.ok || mine.field.startsWith('confirm') ? null : mine)
    if (!mine.ok) return
    const values = readForm(new FormData(form.current ?? undefined))
    const said = JSON.stringify([typed, confirm])
    // The same Enter twice is one reading; another one waits for the first to be answered and is not lost.
    if (onTheWay.current.last === said) return
    hand.hold()
    const done = onTheWay.current.done.then(async () => {
      await post(typed, confirm, values)
      if (onTheWay.current.last === said) onTheWay.current.last = null
    })
    onTheWay.current = { last: said, done }
  }

  const error = said ?? (refusal && { field: Object.keys(refusal.fields)[0] ?? 'form', words: refusal.words })
  return { send, judge, pending, refusal, asked, odd, error, takes }
}

/** Where a photograph lies on this device while its reading is written. */
export const photoSlot = (tag: string, check: string, corrects: boolean): string => `${tag} ${check} ${corrects ? 'correction' : 'reading'}`

/** Where the house is not reached, a reading waits on this device with its photograph. */
const postOrWait = async (reading: ReadingToSend) => {
  try {
    return await postReading(reading)
  } catch (reason) {
    if (refusedBy(reason).unreached) return 'waits' as const
    throw reason
  }
}

const shownOf = ({ kind, unit }: CheckView, { entry, hours }: Typed): string =>
  kind === 'measure' && /^[\d.,+-]+$/.test(entry) ? `${entry} ${unit}` : kind === 'soak' ? `${entry} faults in ${hours} h` : entry

/** What was asked about a reading, and answered. */
const confirmed = (confirm: Confirm | undefined) => ({
  confirmThousand: confirm === 'odd' ? undefined : confirm,
  ...(confirm === 'odd' ? { confirmOdd: true } : {}),
})

/** What the house saw of the soak that is entered: of the one that runs, or of the one that is corrected. */
function soakOf({ key, reading }: CheckView, corrects: boolean, running: BringupView['soak'], now: number): SoakSeen | null {
  if (corrects) return reading?.soak && !reading.soak.isStated ? reading.soak : null
  return running?.check === key ? seenOf(running, now) : null
}
