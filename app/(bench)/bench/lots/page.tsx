import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { type Instant, toIso } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { showClock, showDay, zonePlace } from '#kernel/wall-clock'
import type { PriceDesk } from '#money/fixed-price/offer-price.contract'
import { sayFixedDay, sayFixedPrice } from '#sale/fixed-price/fixed-price-words.rules'
import type { LotCard } from '#sale/lots/lots.contract'
import { FixedPriceDesk } from '../_fixed-price/fixed-price-desk'
import { StaffOnly } from '../_refused/staff-only'
import { GateSummary } from './gate-summary'
import { HoldAll } from './hold-all'
import { OpenReady } from './open-ready'
import { StartLot } from './start-lot'
import { stateChip } from './state-words'

export const metadata: Metadata = { title: 'Lots' }

const ROLES = ['maker', 'host', 'treasurer'] as const

export default async function BenchLotsPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const isMaker = person.role === 'maker'
  const [lots, startable, hold, patterns, voids, gates, desks] = await Promise.all([
    caller.lots.all(),
    isMaker ? caller.lots.startable() : [],
    caller.bidding.holdOfAll(),
    isMaker ? caller.bidding.patterns().then(({ length }) => length) : 0,
    caller.bidding.voidsWaiting(),
    caller.lots.gates(),
    person.role === 'host' ? [] : caller.fixedPrice.desks(),
  ])
  const deskOf = new Map(desks.map((desk) => [desk.lot, desk]))
  const gateOf = new Map(gates.map(({ lot, missing }) => [lot, missing]))
  const zone = campaign?.zone ?? 'utc'
  const times = lots.flatMap(({ closesAt }) => closesAt ?? [])
  const firstDay = times.length === 0 ? '' : showDay(Math.min(...times), zone)
  const ready = gates.filter(({ missing }) => missing.length === 0).map(({ lot }) => lot)
  return (
    <div className="page stack wide">
      <header className="row apart">
        <h1>Lots</h1>
        {person.role !== 'treasurer' && (
          <HoldAll reason={hold?.reason ?? null} open={lots.filter(({ state }) => state === 'open').length} />
        )}
      </header>
      {voids.length > 0 && (
        <Notice tone="doubt" title="A void is waiting for a second member of staff">
          <p>
            {voids.map((number, index) => (
              <span key={number}>
                {index > 0 && ', '}
                <Link prefetch={false} href={`/bench/lots/${number}`}>
                  Lot {number}
                </Link>
              </span>
            ))}
          </p>
        </Notice>
      )}
      {lots.length === 0 ? (
        <EmptyState title="No lot has been started yet.">
          A lot is a unit and its extras. Start one as soon as the unit has a tag; it opens once nothing is missing.
        </EmptyState>
      ) : (
        <table className="cards">
          <caption className="visually-hidden">All lots by number; times are the stream’s</caption>
          <thead>
            <tr>
              <th scope="col">Lot</th>
              <th scope="col">Title</th>
              <th scope="col">State</th>
              <th scope="col">
                Closing, {firstDay !== '' && `${firstDay}, `}in {zonePlace(zone)}
              </th>
              <th scope="col" className="num">
                Price
              </th>
              <th scope="col" className="num">
                Bids
              </th>
            </tr>
          </thead>
          <tbody>
            {lots.map((lot) => (
              <tr key={lot.number}>
                <th scope="row">
                  <Link prefetch={false} href={`/bench/lots/${lot.number}`}>
                    {lot.number} · <span className="code">{lot.unit}</span>
                  </Link>
                </th>
                <td data-label="Title">{lot.title}</td>
                <td data-label="State">
                  <Chip tone={stateChip(lot).tone}>{stateChip(lot).words}</Chip>
                  {lot.fixedPrice?.is === 'sold' && (
                    <span className="small">
                      {sayFixedPrice(lot.fixedPrice, lot.currency)} {sayFixedDay(lot.fixedPrice, zone)}
                    </span>
                  )}
                  <DeskOf desk={deskOf.get(lot.number)} />
                  <GateSummary lot={lot.number} missing={gateOf.get(lot.number)} />
                </td>
                <td data-label="Closing">
                  {lot.closesAt === null ? (
                    <span className="quiet">not planned</span>
                  ) : (
                    <StreamTime at={lot.endedAt ?? lot.closesAt} zone={zone} firstDay={firstDay} />
                  )}
                </td>
                <td data-label="Price" className="num">
                  {priceOf(lot)}
                </td>
                <td data-label="Bids" className="num">
                  {lot.bids}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {isMaker && !hold && ready.length > 0 && (
        <div className="row">
          <OpenReady lots={ready} />
        </div>
      )}
      {isMaker && (
        <p>
          <Link prefetch={false} href="/bench/lots/look">
            Worth a look
          </Link>
          {patterns > 0 ? `: ${patterns === 1 ? 'one pattern' : `${patterns} patterns`} among the bidders` : ': nothing so far'}
        </p>
      )}
      {isMaker && (
        <section className="sheet stack narrow" aria-labelledby="start">
          <h2 id="start">Start a lot</h2>
          {startable.length > 0 ? (
            <StartLot units={startable} like={lots.map(({ number, title }) => ({ number, title }))} />
          ) : (
            <p className="quiet">Every unit is already in a lot, or there are none yet.</p>
          )}
        </section>
      )}
    </div>
  )
}

/** By the stream's own clock: whoever plans the day plans it by that. The first day stands at the head of the column. */
function StreamTime({ at, zone, firstDay }: { at: Instant; zone: string; firstDay: string }) {
  const day = showDay(at, zone)
  return (
    <time dateTime={toIso(at)} className="num">
      {showClock(at, zone)}
      {day !== firstDay && <span className="small quiet"> {day}</span>}
    </time>
  )
}

function DeskOf({ desk }: { desk: PriceDesk | undefined }) {
  return desk ? <FixedPriceDesk desk={desk} isBrief /> : null
}

function priceOf({ fixedPrice, hammerMinor, standingMinor, currency }: LotCard): string {
  const minor = fixedPrice?.priceMinor ?? hammerMinor ?? standingMinor
  return minor === null ? '' : showMoney(minor, currency)
}
