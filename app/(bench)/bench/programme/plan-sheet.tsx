'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { Money } from '#app/_ui/money.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import type { PlanningView } from '#sale/planning/wish.contract'
import { showClock } from '#sale/programme/civil-time.rules'
import { DropWish } from './drop-wish'
import styles from './planner.module.css'
import { SearchGauge } from './search-gauge'

export interface PlanSheetProps {
  planning: PlanningView
  look(): void
}

/** Lets the day be planned, shows the search as it goes, and what came of it. */
export function PlanSheet({ planning, look }: PlanSheetProps) {
  const start = useCommand(api.planning.start.mutate)
  const stop = useCommand(() => api.planning.stop.mutate())
  const { running, lots, withoutEstimate } = planning
  const isRunning = running?.state === 'searching' || running?.state === 'pricing'
  return (
    <section className="sheet stack" aria-labelledby="let-plan">
      <h2 id="let-plan">Let it be planned</h2>
      <p className="quiet">
        {lots.length === 1 ? 'One lot has' : `${lots.length} lots have`} no announced time. The plan puts each where it is expected to raise
        most: its likely estimate times the share of the audience that is awake. What is announced stays.
      </p>
      {withoutEstimate.length > 0 && (
        <Notice tone="doubt">
          <p>
            {withoutEstimate.map((lot) => `Lot ${lot}`).join(', ')} {withoutEstimate.length === 1 ? 'has' : 'have'} no likely estimate, so
            the plan puts {withoutEstimate.length === 1 ? 'it' : 'them'} where there is room.
          </p>
        </Notice>
      )}
      <CommandForm
        label="Let it be planned"
        pending={start.pending}
        refusal={start.refusal}
        run={(form) =>
          start.run({
            before: form.text('before'),
            after: form.text('after'),
            allowance: form.text('allowance'),
            likeApart: form.text('likeApart'),
            best: form.text('best'),
            dearestNotFirst: form.ticked('dearestNotFirst'),
          })
        }
        onDone={look}
      >
        <details>
          <summary>What it goes by</summary>
          <div className={styles.settings}>
            <Minutes name="before" label="Minutes before a closing" value="10" />
            <Minutes name="after" label="Minutes after it" value="5" />
            <Minutes name="allowance" label="Minutes for extensions" value="10" />
            <Minutes name="likeApart" label="Minutes between like machines" value="60" />
            <Minutes name="best" label="Best lot at this per cent of the way" value="70" />
          </div>
          <CheckField name="dearestNotFirst" label="The dearest lot is not the first" defaultChecked />
          <p className="small quiet">These are common practice, no more. Change them to what your stream needs.</p>
        </details>
        <div className="row">
          <SubmitButton>{running ? 'Plan it anew' : 'Plan the day'}</SubmitButton>
          {isRunning && (
            <button type="button" className="button-line" onClick={() => void stop.run(undefined).then(look)}>
              Stop
            </button>
          )}
        </div>
      </CommandForm>
      {running && <SearchGauge running={running} currency={planning.currency} />}
      {running?.state === 'nothing-fits' && <NothingFits planning={planning} look={look} />}
      {planning.planned.length > 0 && <Planned planning={planning} />}
    </section>
  )
}

function Minutes({ name, label, value }: { name: string; label: string; value: string }) {
  return <TextField name={name} label={label} width="code" inputMode="numeric" defaultValue={value} />
}

function NothingFits({ planning, look }: PlanSheetProps) {
  if (planning.room) {
    const { neededMinutes, thereMinutes } = planning.room
    return (
      <Notice tone="bad" title="The closings alone do not fit">
        <p>
          They keep {neededMinutes} minutes to themselves, and the stream has {thereMinutes} free, some of them cut short by breaks and by
          what is announced. Take fewer minutes for each, make the stream longer, or leave a lot for another day.
        </p>
      </Notice>
    )
  }
  return (
    <Notice tone="bad" title="These cannot all be kept">
      <p>Any one of them less, and there is a plan:</p>
      <ul className="stack">
        {planning.together.map(({ wishId, words }) => (
          <li key={wishId} className="row apart">
            {words}
            {planning.wishes.some(({ id }) => id === wishId) ? (
              <DropWish wishId={wishId} words={words} look={look} />
            ) : (
              <span className="quiet">untick it above</span>
            )}
          </li>
        ))}
      </ul>
    </Notice>
  )
}

function Planned({ planning }: { planning: PlanningView }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(() => api.planning.adopt.mutate())
  const { planned, zone, currency, expectedMinor, prices } = planning
  const shifted = planned.filter(({ at, wasAt }) => at !== wasAt)
  const hasMoney = expectedMinor !== null && expectedMinor > 0
  const inOrder = [...planned].sort((a, b) => a.at - b.at)
  return (
    <div className="stack">
      <table>
        <caption>
          The plan{hasMoney && ' is expected to raise '}
          {hasMoney && <Money minor={expectedMinor} currency={currency} short />}
        </caption>
        <thead>
          <tr>
            <th scope="col">Closing</th>
            <th scope="col">Lot</th>
            <th scope="col">Until now</th>
          </tr>
        </thead>
        <tbody>
          {inOrder.map(({ lot, title, at, wasAt }) => (
            <tr key={lot}>
              <td className="num">{showClock(at, zone)}</td>
              <th scope="row">
                Lot {lot}: {title}
              </th>
              <td>{wasAt === null ? 'no time yet' : wasAt === at ? 'the same' : showClock(wasAt, zone)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {prices.length > 0 && (
        <table>
          <caption>What each wish costs of that</caption>
          <thead>
            <tr>
              <th scope="col">Wish</th>
              <th scope="col">Kept</th>
              <th scope="col">Cost</th>
            </tr>
          </thead>
          <tbody>
            {prices.map(({ wishId, words, kept, costMinor, shareBp }) => (
              <tr key={wishId}>
                <th scope="row">{words}</th>
                <td>{kept ? 'yes' : 'no: keeping it would cost'}</td>
                <td className="num">
                  <Money minor={costMinor} currency={currency} short /> ({(shareBp / 100).toFixed(1)} %)
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {shifted.length === 0 ? (
        <p>The programme stands as this plan has it.</p>
      ) : (
        <div className="row">
          <button
            type="button"
            className="button"
            disabled={pending}
            onClick={async () => {
              if (await run(undefined)) router.refresh()
            }}
          >
            Take it over: {shifted.length === 1 ? 'one closing moves' : `${shifted.length} closings move`}
          </button>
          <p className="small quiet">
            Nobody is told: only what is announced is public. Dashed posts on the line show where they would stand.
          </p>
        </div>
      )}
      {refusal && (
        <p role="alert" className={styles.objection}>
          {refusal.words}
        </p>
      )}
    </div>
  )
}
