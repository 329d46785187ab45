import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { LiveMeter } from '#app/_ui/live-meter.tsx'
import { matchedWords } from '#app/_ui/matched-words.ts'
import { MeterDay } from '#app/_ui/meter-day.tsx'
import { StaffOnly } from '../_refused/staff-only'
import { ForecastSheet } from './_forecast/forecast-sheet'
import { bookParts } from './parts.rules'
import { RaisedSheet } from './raised-sheet'
import { SoldTable } from './sold-table'
import { StatementSheet } from './statement-sheet'
import { WaitingList } from './waiting-list'

export const metadata: Metadata = { title: 'Money' }

const ROLES = ['treasurer', 'maker', 'host'] as const

/** One true figure, the day's line, how it may end; for the treasurer and the maker what waits, the lots and the statement. */
export default async function MoneyPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const [meter, day, forecast] = await Promise.all([caller.proceeds.meterAtWork(), caller.pictures.dayAtWork(), caller.forecast.now()])
  if (!meter || !day || !forecast) {
    return (
      <div className="page">
        <h1>Money</h1>
        <EmptyState title="There is no campaign yet." action={<Link href="/bench/campaign">Set up the campaign</Link>} />
      </div>
    )
  }
  // The host sees how far we are; the books are the treasurer's and the maker's.
  const keepsBooks = bookParts(person.role).length > 1
  const [books, parts] = keepsBooks ? await Promise.all([caller.books.all(), caller.proceeds.states()]) : [null, []]
  const matched = matchedWords(meter)
  return (
    <div className="page stack wide">
      <h1>Money</h1>
      <LiveMeter initial={meter} />
      {matched && <p>{matched}</p>}
      {parts.length > 0 && <RaisedSheet parts={parts} currency={meter.currency} />}
      {books && <WaitingList books={books} />}
      <section className="stack" aria-labelledby="day">
        <h2 id="day">The day so far</h2>
        <MeterDay initial={day} meter={meter} />
      </section>
      <ForecastSheet initial={forecast} meter={meter} />
      {books && (
        <>
          <section id="sold">
            {books.statement.lots.length === 0 ? (
              <EmptyState title="No hammer has fallen yet.">
                <p>Sold lots appear here with their reference and what is still to pay.</p>
              </EmptyState>
            ) : (
              <SoldTable lots={books.statement.lots} currency={meter.currency} />
            )}
          </section>
          <StatementSheet statement={books.statement} />
        </>
      )}
    </div>
  )
}
