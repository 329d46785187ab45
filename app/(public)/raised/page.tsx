import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { AsOf } from '#app/_ui/as-of.tsx'
import { LiveMeter } from '#app/_ui/live-meter.tsx'
import { matchedWords } from '#app/_ui/matched-words.ts'
import { MeterDay } from '#app/_ui/meter-day.tsx'
import { RaisedTable } from '#app/_ui/raised-table.tsx'
import { sayWhen } from '#app/_ui/when.rules.ts'
import { showMoney } from '#kernel/money'

export const metadata: Metadata = { title: 'How far we are' }

/** The meter and its day, for anybody: what counts, since when, and what the words mean. */
export default async function RaisedPage() {
  const caller = await api()
  const [meter, day, before, parts] = await Promise.all([
    caller.proceeds.meter(),
    caller.pictures.day(),
    caller.pictures.daysBefore(),
    caller.proceeds.parts(),
  ])
  if (!meter || !day) notFound()
  const { currency, causeName, causeShareBp, sharesDiffer, giftMinor, lots } = meter
  const matched = matchedWords(meter)
  const share = sharesDiffer ? 'the share of each price that the lot’s page names' : `${causeShareBp / 100} % of the price of each lot`
  const show = (minor: number) => showMoney(minor, currency, { short: true })
  return (
    <div className="page stack wide">
      <h1>How far we are</h1>
      <AsOf at={day.at} zone={day.zone} path="/raised" />
      <LiveMeter initial={meter} />
      <section className="stack" aria-labelledby="day">
        <h2 id="day">{before.length === 0 ? 'The day so far' : sayWhen(day.fromAt, day.zone, 'day')}</h2>
        <MeterDay initial={day} meter={meter} />
      </section>
      {before.map((earlier) => (
        <section key={earlier.fromAt} className="stack" aria-labelledby={`day-${earlier.fromAt}`}>
          <h2 id={`day-${earlier.fromAt}`}>{sayWhen(earlier.fromAt, earlier.zone, 'day')}</h2>
          <MeterDay initial={earlier} meter={meter} isPast />
        </section>
      ))}
      <section className="stack close" aria-labelledby="counts">
        <h2 id="counts">What counts</h2>
        <p>
          {causeName || 'The cause'} receives {share}; postage never counts, and costs are not deducted. A bid below an unmet reserve does
          not count.
        </p>
        {giftMinor > 0 && <p>{show(giftMinor)} of it are gifts of money.</p>}
        {matched && <p>{matched}</p>}
        {lots.fellThrough > 0 && (
          <p>
            {lots.fellThrough === 1 ? 'One sale fell through' : `${lots.fellThrough} sales fell through`} and no longer{' '}
            {lots.fellThrough === 1 ? 'counts' : 'count'}.
          </p>
        )}
        {lots.toBeHad > 0 && (
          <p>
            <Link prefetch={false} href="/">
              {lots.toBeHad === 1 ? 'One machine can still be had' : `${lots.toBeHad} machines can still be had`} at a fixed price
            </Link>
            ; it counts once it is sold.
          </p>
        )}
        {parts.length > 0 && (
          <RaisedTable
            rows={parts}
            currency={currency}
            columns={[['Raised', (row) => row.raisedMinor]]}
            href={({ lot }) => (lot === null ? null : `/lots/${lot}`)}
          />
        )}
        <p>
          <Link prefetch={false} href="/">
            The lots
          </Link>{' '}
          · <a href="/proceeds.json">This page as data (JSON)</a>
        </p>
      </section>
    </div>
  )
}
