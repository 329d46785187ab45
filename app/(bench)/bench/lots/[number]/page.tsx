import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { When } from '#app/_ui/when.tsx'
import { FixedPriceDesk } from '#app/(bench)/bench/_fixed-price/fixed-price-desk.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import type { PostageTable } from '#money/sending/bands.service'
import { chargeableGrams, type SizeMm } from '#money/sending/weight.rules'
import { sayFixedDay, sayFixedPrice } from '#sale/fixed-price/fixed-price-words.rules'
import type { Prepared } from '#sale/lots/prepare.service'
import { comesTo } from '#sale/price/result.rules'
import { LadderForm } from '../ladder-form'
import { stateChip } from '../state-words'
import { Bidders } from './bidders'
import { GateList } from './gate-list'
import { Photographs } from './photographs'
import { PostageForm } from './postage-form'
import { PrepareForm } from './prepare-form'
import { Recordings } from './recordings'
import { RunLot } from './run-lot'
import { VoidRequests } from './void-requests'

type Params = { params: Promise<{ number: string }> }

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  return { title: `Lot ${(await params).number} at the bench` }
}

/** What the carrier charges a lot for, by its weight and size as they are written now. */
function tableFor({ bands, terms }: PostageTable, { weightGrams, lengthMm, widthMm, heightMm }: Prepared['row']) {
  const size: SizeMm | null = lengthMm && widthMm && heightMm ? [lengthMm, widthMm, heightMm] : null
  return { bands, chargeableGrams: weightGrams === null ? null : chargeableGrams(weightGrams, size, terms.volumetricDivisor) }
}

/** One lot for the staff: what is missing, what it says, and how it is run. */
export default async function BenchLotPage({ params }: Params) {
  const { number } = await params
  if (!/^[1-9]\d{0,8}$/.test(number)) notFound()
  const lot = Number(number)
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'host' && person?.role !== 'treasurer')
    return <StaffOnly roles={['maker', 'host', 'treasurer']} person={person} />
  const runsTheSale = person.role !== 'treasurer'
  const card = (await caller.lots.all()).find((one) => one.number === lot)
  if (!card) notFound()
  const isUnopened = card.state === 'draft' || card.state === 'ready'
  const isRunning = card.state === 'open' || card.state === 'held'
  const prepared = person.role === 'maker' ? await caller.lots.prepared({ lot }).catch(orNotFound) : null
  const pastSales = prepared && isUnopened ? await caller.lots.pastSales({ lot }) : null
  const recordings = prepared && isUnopened ? await caller.lots.recordings({ lot }) : []
  const ladder = isUnopened && prepared ? await caller.lots.ladder({ lot }) : null
  const table = prepared && isUnopened ? tableFor(await caller.sending.table(), prepared.row) : { bands: [], chargeableGrams: null }
  const bidders = isRunning && runsTheSale ? await caller.bidding.bidders({ lot }) : null
  const voidRequests = isRunning ? await caller.bidding.voidRequests({ lot }) : []
  const isToShow = prepared !== null && card.state === 'draft'
  const late = isToShow ? ((await caller.programme.lateParts()).find((one) => one.lot === lot) ?? null) : null
  const desk = person.role === 'host' ? undefined : (await caller.fixedPrice.desks()).find((one) => one.lot === lot)
  const zone = campaign?.zone ?? 'utc'
  return (
    <div className="page stack wide">
      <Crumbs trail={[{ href: '/bench/lots', label: 'Lots' }]} />
      <Tag code={`Lot ${lot} · ${card.unit}`} aside={<Chip tone={stateChip(card).tone}>{stateChip(card).words}</Chip>}>
        <h1>{card.title}</h1>
        <p>
          {card.closesAt === null ? (
            <Link prefetch={false} href="/bench/programme">
              Plan its closing
            </Link>
          ) : (
            <>
              {card.endedAt === null ? 'Closes ' : 'Ended '}
              <When at={card.endedAt ?? card.closesAt} zone={zone} />
            </>
          )}
          {card.state !== 'draft' && (
            <>
              {' · '}
              <Link prefetch={false} href={`/lots/${lot}`}>
                As bidders see it
              </Link>
              {' · '}
              {comesTo(card) > 0 && (card.soldWhere === 'here' || card.fixedPrice !== null) ? (
                <Link prefetch={false} href={`/bench/sending/${lot}`}>
                  Send it
                </Link>
              ) : (
                <a href={`/bench/lots/${lot}/packing.pdf`}>Packing list (PDF)</a>
              )}
            </>
          )}
        </p>
      </Tag>
      {isUnopened && prepared && <GateList missing={prepared.missing} />}
      {person.role !== 'treasurer' && <RunLot card={card} role={person.role} isGateOpen={prepared?.missing.length === 0} late={late} />}
      {desk && (
        <section className="sheet stack" aria-labelledby="fixed-price">
          <h2 id="fixed-price">At a fixed price</h2>
          <FixedPriceDesk desk={desk} />
        </section>
      )}
      {card.fixedPrice?.is === 'sold' && (
        <p>
          {sayFixedPrice(card.fixedPrice, card.currency)} {sayFixedDay(card.fixedPrice, zone)}.{' '}
          {person.role !== 'host' && (
            <Link prefetch={false} href={`/bench/money/${lot}`}>
              Its money
            </Link>
          )}
        </p>
      )}
      <VoidRequests lot={lot} requests={voidRequests} zone={zone} />
      {bidders && <Bidders lot={lot} {...bidders} asked={voidRequests.map(({ alias }) => alias)} />}
      {isUnopened && prepared && (
        <>
          <section className="sheet stack" aria-labelledby="says">
            <h2 id="says">What it says</h2>
            <PrepareForm pastSales={pastSales} prepared={prepared} />
          </section>
          {ladder && (
            <details className="sheet" id="ladder">
              <summary>The ladder: by how much its price rises</summary>
              <LadderForm lot={lot} view={ladder} />
            </details>
          )}
          <section id="photographs" className="sheet stack" aria-labelledby="photographs-title">
            <h2 id="photographs-title">Photographs</h2>
            <Photographs lot={lot} photographs={prepared.photographs} />
          </section>
          <section id="recordings" className="sheet stack" aria-labelledby="recordings-title">
            <h2 id="recordings-title">Sound and video</h2>
            <Recordings lot={lot} recordings={recordings} />
          </section>
          <section id="postage" className="sheet stack" aria-labelledby="postage-title">
            <h2 id="postage-title">Postage</h2>
            <PostageForm lot={lot} postage={prepared.postage} currency={card.currency} table={table} />
          </section>
        </>
      )}
    </div>
  )
}
