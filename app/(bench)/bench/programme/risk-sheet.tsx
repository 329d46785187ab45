'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useProgress } from '#app/_trpc/use-progress.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { lateWindowWords } from '#sale/price/late-bid.rules'
import type { DayPlan } from '#sale/programme/programme.contract'
import { DEFAULT_LIKELY, type Likely, type SimulationView } from '#sale/simulation/simulation.contract'
import styles from './planner.module.css'
import { RiskChart } from './risk-chart'
import { RiskTable } from './risk-table'

/** How the day may go: it is played many times over, and what went wrong how often is shown along its line. */
export function RiskSheet({ day, found }: { day: DayPlan; found: SimulationView | null }) {
  const { seen, isRunning, look } = useProgress(
    found,
    () => api.simulation.present.query({ day: day.number }),
    (now) => now?.state === 'playing',
  )
  const start = useCommand(api.simulation.start.mutate)
  const stop = useCommand(() => api.simulation.stop.mutate())
  return (
    <section className="sheet stack" aria-labelledby="risk">
      <h2 id="risk">How it may go</h2>
      <p className="quiet">
        The day is played thousands of times: bids come late and extend closings, guests talk too long, the stream is lost and held. It says
        how often things run into each other if the host changes nothing.
      </p>
      <CommandForm
        label="How it may go"
        pending={start.pending}
        refusal={start.refusal}
        run={(form) =>
          start.run({
            day: day.number,
            days: form.text('days'),
            ofTen: form.text('ofTen'),
            watchers: form.text('watchers'),
            left: form.text('left'),
            guestPercent: form.text('guestPercent'),
            guestMinutes: form.text('guestMinutes'),
            lostHours: form.text('lostHours'),
            lostMinutes: form.text('lostMinutes'),
            allowance: form.text('allowance'),
            enough: form.text('enough'),
          })
        }
        onDone={look}
      >
        <Figures likely={seen?.likely ?? DEFAULT_LIKELY} days={seen?.days ?? 10_000} />
        <div className="row">
          <SubmitButton kind="line">{seen ? 'Play it again' : 'Play the day'}</SubmitButton>
          {isRunning && (
            <button type="button" className="button-line" onClick={() => void stop.run(undefined).then(look)}>
              Stop playing
            </button>
          )}
        </div>
      </CommandForm>
      {seen && <Progress seen={seen} />}
      {seen?.risk && seen.isStale && (
        <Notice tone="doubt">
          <p>The day was changed since. These figures speak of it as it stood; play it again.</p>
        </Notice>
      )}
      {seen?.risk && (
        <>
          <RiskChart day={day} risk={seen.risk} />
          <p>{BASIS_WORDS[seen.basis]}</p>
          <p>
            {Math.ceil(seen.risk.roomMs / 60_000)} minutes after each closing are enough for its extensions in{' '}
            {Math.round(seen.likely.enoughShare * 100)} days of a hundred. Write them above, where the day is planned, as what each closing
            keeps for them.
          </p>
          <RiskTable risk={seen.risk} parts={seen.parts} zone={day.zone} allowanceMs={seen.likely.allowanceMs} />
        </>
      )}
    </section>
  )
}

const BASIS_WORDS: Record<SimulationView['basis'], string> = {
  followers: 'Interest in each lot is taken from who has bid on it or asked to be reminded.',
  estimates: 'Nobody has bid yet or asked to be reminded, so interest is reckoned from how many may watch and from the estimates.',
  watchers: 'Nobody has bid yet and no lot has an estimate, so every lot is reckoned alike, from how many may watch.',
}

function Progress({ seen: { state, played, days } }: { seen: SimulationView }) {
  const count = played.toLocaleString('en-GB')
  return (
    <div>
      <p role="status">
        {state === 'playing' && `Playing: ${count} of ${days.toLocaleString('en-GB')} days …`}
        {state === 'done' && `Played ${count} days.`}
        {state === 'stopped' && `Stopped after ${count} days; what was counted until then is not shown.`}
        {state === 'failed' && 'It failed. Try again; the programme is untouched.'}
      </p>
      {state === 'playing' && (
        <svg viewBox="0 0 400 16" className={styles.searchLine} aria-hidden="true">
          <path d="M0 8H400" className={styles.searchBound} />
          <path d={`M0 8H${(400 * played) / days}`} className={styles.searchBest} />
        </svg>
      )}
    </div>
  )
}

function Figures({ likely, days }: { likely: Likely; days: number }) {
  const { bidsForEachFollower, watchers, leftAfterExtension, guestOver, lost, allowanceMs, enoughShare } = likely
  const minutes = (milliseconds: number) => Math.round(milliseconds / 60_000)
  const fields = [
    ['ofTen', 'Late bids from ten followers', Math.round(bidsForEachFollower * 10)],
    ['watchers', 'People who are expected to watch', watchers],
    ['left', 'Interest left after an extension, %', Math.round(leftAfterExtension * 100)],
    ['guestPercent', 'Guests who talk too long, %', Math.round(guestOver.share * 100)],
    ['guestMinutes', 'By how many minutes on average', minutes(guestOver.meanMs)],
    ['lostHours', 'Stream lost once in hours, 0 for never', lost.perHour === 0 ? 0 : Math.round(1 / lost.perHour)],
    ['lostMinutes', 'For how many minutes on average', minutes(lost.meanMs)],
    ['allowance', 'Minutes that a closing may be late', minutes(allowanceMs)],
    ['enough', 'Its room is to be enough in so many days of a hundred', Math.round(enoughShare * 100)],
    ['days', 'Days to play', days],
  ] as const
  return (
    <details>
      <summary>What is held to be likely</summary>
      <div className={styles.settings}>
        {fields.map(([name, label, value]) => (
          <TextField key={name} name={name} label={label} width="code" inputMode="numeric" defaultValue={String(value)} />
        ))}
      </div>
      <p className="small quiet">
        Rules of thumb, without a source. Late bids arrive by chance alone in the last {lateWindowWords()} (a Poisson process) and more of
        them the more people bid on a lot or asked to be reminded; how long a guest or a loss lasts is exponential. Put in what you know.
      </p>
    </details>
  )
}
