import type { Metadata } from 'next'
import { standsWords } from '#air/screens/host.rules'
import { api, serverNow } from '#app/_trpc/server.ts'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { showMoney } from '#kernel/money'
import { showClock, showDay, zonePlace } from '#kernel/wall-clock'
import { PrintButton } from './print-button'
import styles from './run-sheet.module.css'

export const metadata: Metadata = { title: 'Run sheet' }

const ROLES = ['maker', 'host'] as const

/** The rest of the day on paper, for the hour in which the laptop dies: made anew each time it is opened. */
export default async function RunSheetPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const [host, now] = [await caller.air.host(), await serverNow()]
  if (!host) return <p>There is no campaign yet.</p>
  const { items, zone, closesAt, name } = host.programme
  const coming = items.filter((item) => !item.isOver)
  const sheets = new Map(
    await Promise.all(
      coming.flatMap(({ lot }) => (lot === null ? [] : [caller.air.cueSheet({ lot }).then((sheet) => [lot, sheet] as const)])),
    ),
  )
  return (
    <div className={styles.sheet}>
      <PrintButton />
      <h1>
        {name}: run sheet of {showClock(now, zone)}
      </h1>
      <p>
        {showDay(now, zone)}, by the clock of {zonePlace(zone)}. The stream ends at {showClock(closesAt, zone)}. Times and prices are those
        of the minute above: a late bid, a hold or a change since then is not on this paper. Only the house says that a lot is sold.
      </p>
      {coming.length === 0 && <p>Nothing more is announced.</p>}
      {coming.map((item) => {
        const sheet = item.lot === null ? undefined : sheets.get(item.lot)
        const lot = host.lots.lots.find(({ number }) => number === item.lot)
        return (
          <section key={item.id} className={styles.item}>
            <h2>
              {showClock(item.kind === 'closing' ? item.runsTo : item.startsAt, zone)}
              {item.kind !== 'closing' && ` to ${showClock(item.endsAt, zone)}`} {item.title}
            </h2>
            {item.isHeld && <p>Its clock is stopped.</p>}
            {item.note !== '' && <p>{item.note}</p>}
            {lot && (
              <p>
                As it stands: {standsWords(item, lot, (minor) => showMoney(minor, lot.currency, { short: true }))}. Unit {lot.unit}.
              </p>
            )}
            {sheet && (
              <>
                <p>{sheet.story}</p>
                {sheet.record.length > 0 && <p>From its record: {sheet.record.join(' ')}</p>}
                <p>
                  Thank:{' '}
                  {sheet.names.length === 0 && sheet.friends === 0
                    ? 'nobody behind it is named on stream.'
                    : [
                        ...sheet.names.map((one) => (one.sayIt === '' ? one.name : `${one.name} (say ${one.sayIt})`)),
                        ...(sheet.friends > 0 ? [sheet.friends === 1 ? 'one friend' : `${sheet.friends} friends`] : []),
                      ].join(', ')}
                </p>
              </>
            )}
          </section>
        )
      })}
    </div>
  )
}
