'use client'

import { useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { HOLD_REASONS } from '#sale/closings/closings.contract'
import type { ShownGoingOn, ShownHold } from '#sale/planning/change.contract'
import { sayNoticeAfterHold, sayRunsOn } from '#sale/programme/day-words.rules'
import { asSent, Choices, type Chosen, NOTHING_CHOSEN, stillOpen, toDo } from './choices'
import { RippleList } from './ripple-list'
import type { Pending } from './use-grace'

/** The longer a hold lasts, the more it moves: what going on would do is asked again and again. */
const ASK_EVERY_MS = 5_000

/** Stops all clocks at once; it is undone by letting them go on. */
export function HoldForm({ close, offerUndo }: { close(): void; offerUndo(pending: Pending): void }) {
  const { run, pending, refusal } = useCommand(api.programme.holdAll.mutate)
  const [stops, setStops] = useState<ShownHold | null>(null)
  const [reason, setReason] = useState<string>(HOLD_REASONS[0])
  useEffect(() => {
    let isGone = false
    // Without it the hold is as good; it only says less before.
    api.planning.previewHold.query().then(
      (shown) => !isGone && setStops(shown),
      () => {},
    )
    return () => {
      isGone = true
    }
  }, [])
  return (
    <CommandForm
      label="Hold everything"
      pending={pending}
      refusal={refusal}
      run={(form) => run({ reason: form.text('reason') })}
      onDone={() => {
        close()
        offerUndo({ words: 'Everything is held', run: () => api.programme.resumeAll.mutate() })
      }}
    >
      <p>
        All clocks stop at once and no bid is taken. {stops && stopWords(stops)} Everybody watching is told why. It can be undone.{' '}
        {sayNoticeAfterHold} What stands in its way makes room; what has room stays at its time.
      </p>
      <TextField name="reason" label="Why? Everybody can read it." value={reason} onChange={(event) => setReason(event.target.value)} />
      <div className="row">
        {HOLD_REASONS.map((words) => (
          <button key={words} type="button" className="button-line" aria-pressed={words === reason} onClick={() => setReason(words)}>
            {words}
          </button>
        ))}
      </div>
      <div className="row">
        <SubmitButton kind="bad">Hold everything</SubmitButton>
        <button type="button" className="button-line" onClick={close}>
          Carry on
        </button>
      </div>
    </CommandForm>
  )
}

function stopWords({ lots, runOn, bidders }: ShownHold): string {
  const who = bidders === 0 ? 'nobody has bid on them' : bidders === 1 ? 'one person has bid on them' : `${bidders} people have bid on them`
  const stops = lots === 0 ? 'No lot that is open now stops.' : `${lots === 1 ? 'One lot stops' : `${lots} lots stop`}; ${who}.`
  return [stops, sayRunsOn(runOn)].join(' ').trim()
}

/** Lets all clocks go on, once what that moves has been seen and what it would throw has been chosen. */
export function ResumeForm({ zone, begin, close }: { zone: string; begin(pending: Pending): void; close(): void }) {
  const [ripple, setRipple] = useState<ShownGoingOn | null>(null)
  const [chosen, setChosen] = useState<Chosen>(NOTHING_CHOSEN)
  useEffect(() => {
    let isGone = false
    const about = toDo(chosen)
    const ask = () =>
      api.planning.previewResume.query(about).then(
        (shown) => !isGone && setRipple(shown),
        () => {},
      )
    void ask()
    const timer = setInterval(() => void ask(), ASK_EVERY_MS)
    return () => {
      isGone = true
      clearInterval(timer)
    }
  }, [chosen])
  const open = stillOpen(ripple, chosen)
  const isStuck = open.length > 0 || (ripple?.beyondEnd.length ?? 0) > 0
  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault()
        if (!isStuck) begin({ words: 'All clocks go on', run: () => api.programme.resumeAll.mutate(asSent(chosen)) })
      }}
    >
      {ripple && <p>{ripple.notice} What has room behind it stays where it was announced.</p>}
      {ripple && <Choices ripple={ripple} chosen={chosen} open={open} zone={zone} then="when the clocks go on" choose={setChosen} />}
      <div className="row">
        <button type="submit" className="button" disabled={isStuck}>
          Go on
        </button>
        <button type="button" className="button-line" onClick={close}>
          Stay on hold
        </button>
      </div>
      {isStuck && <p>First choose what happens to the above.</p>}
      {ripple && <RippleList ripple={ripple} zone={zone} />}
    </form>
  )
}
