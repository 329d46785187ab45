'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Money } from '#app/_ui/money.tsx'
import { showClock } from '#kernel/wall-clock'
import type { PlanningView } from '#sale/planning/wish.contract'
import styles from './planner.module.css'

/** The plan that was found, what each wish costs of it, and the button that takes it over. */
export function Planned({ planning }: { planning: PlanningView }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(() => api.planning.adopt.mutate())
  const { planned, prices } = planning
  const shifted = planned.filter(({ at, wasAt }) => at !== wasAt)
  return (
    <div className="stack">
      <PlannedTable planning={planning} />
      {(prices.length > 0 || planning.wishes.some(({ settled }) => settled !== null)) && <PriceTable planning={planning} />}
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

function PlannedTable({
  planning: { planned, zone, currency, expectedMinor, estimatedMinor, silenceMinutes },
}: {
  planning: PlanningView
}) {
  const hasMoney = expectedMinor !== null && expectedMinor > 0 && estimatedMinor !== null
  const inOrder = [...planned].sort((a, b) => a.at - b.at)
  return (
    <table>
      <caption>
        The plan{hasMoney && ': of '}
        {hasMoney && (
          <>
            <Money minor={estimatedMinor} currency={currency} short /> that these lots are estimated at in all it is expected to raise{' '}
            <Money minor={expectedMinor} currency={currency} short />; the rest is what sleepers do not bid
          </>
        )}
        {silenceMinutes !== null && `. The longest time without a closing is ${spanWords(silenceMinutes)}.`}
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
  )
}

function spanWords(minutes: number): string {
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60]
  return hours === 0 ? `${rest} min` : rest === 0 ? `${hours} h` : `${hours} h ${rest} min`
}

function PriceTable({ planning: { prices, wishes, currency, zone } }: { planning: PlanningView }) {
  return (
    <table>
      <caption>What each wish costs, by the sum that the plan is made by: money, the other wishes, the place of the best lot</caption>
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
            <td>{kept ? 'yes' : costMinor === null ? 'no' : 'no: keeping it would cost'}</td>
            <td className="num">
              {costMinor === null ? (
                kept ? (
                  'no plan without it'
                ) : (
                  'cannot be, beside what must be kept'
                )
              ) : (
                <>
                  <Money minor={costMinor} currency={currency} short /> ({(shareBp / 100).toFixed(1)} %)
                </>
              )}
            </td>
          </tr>
        ))}
        {wishes.map(
          ({ id, words, settled }) =>
            settled &&
            !prices.some(({ wishId }) => wishId === id) && (
              <tr key={id}>
                <th scope="row">{words}</th>
                <td>{settled.isKept ? 'yes' : 'no'}</td>
                <td>announced for {showClock(settled.at, zone)}: no plan moves it</td>
              </tr>
            ),
        )}
      </tbody>
    </table>
  )
}
