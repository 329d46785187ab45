import type { Metadata } from 'next'
import Link from 'next/link'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { When } from '#app/_ui/when.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { showMoney } from '#kernel/money'
import { listWords } from '#stock/donors/gift.rules'
import { BatchSheet } from './batch-sheet'
import { BuyForm } from './buy-form'
import { FromBefore } from './from-before'
import styles from './part.module.css'
import { PriceForm } from './price-form'

export const metadata: Metadata = { title: 'Part' }

export default async function PartPage({ params }: { params: Promise<{ id: string }> }) {
  const { id: partId } = await params
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const { part, batches, changes, short, sampling, price, batchPrices } = await caller.buildable.part({ partId }).catch(orNotFound)
  const [{ donors }, touches, notices, kin] = await Promise.all([
    caller.parcels.start(),
    Promise.all(batches.map((batch) => caller.quarantine.touches({ batchId: batch.id }))),
    person.role === 'maker' ? caller.quarantine.notices() : [],
    caller.parts.list(),
  ])
  const others = kin.filter((one) => one.kind === part.kind && one.id !== part.id).map(({ id, words }) => ({ id, words }))
  const names = new Map(donors.map((donor) => [donor.id, donor.name]))
  const currency = campaign?.currency ?? 'GBP'
  const inHand = batches.reduce((sum, batch) => sum + batch.inHand, 0)
  return (
    <div className="page stack wide">
      <Crumbs trail={[{ label: 'Parts', href: '/bench/parts' }]} />
      <div className="row">
        <h1>{part.words}</h1>
        {part.programmed && <Chip>Programmed</Chip>}
        {part.socketed && <Chip>Socketed</Chip>}
        {part.hardToFind && <Chip tone="doubt">Hard to find</Chip>}
      </div>
      <dl className={styles.figures}>
        <div>
          <dt>In hand</dt>
          <dd>{inHand}</dd>
        </div>
        <div>
          <dt>Fitted</dt>
          <dd>{batches.reduce((sum, batch) => sum + batch.fitted, 0)}</dd>
        </div>
        <div>
          <dt>Short</dt>
          <dd className={short ? 'amiss' : undefined}>{short?.short ?? 0}</dd>
        </div>
      </dl>
      {short && (
        <p>
          {listWords(short.waiting, 'and')} {short.waiting.length === 1 ? 'waits' : 'wait'} for it.{' '}
          {short.promised.length > 0
            ? short.promised.map((line) => `${line.donorName} promised ${line.quantity}.`).join(' ')
            : 'Nobody has promised any yet.'}
        </p>
      )}
      {part.imageSha256 && (
        <p className="small">
          Must hold the image <span className="code">{part.imageSha256.slice(0, 16)}…</span>
        </p>
      )}
      {part.idcode && (
        <p className="small">
          Must identify as <span className="digest">{part.idcode}</span>
        </p>
      )}
      {part.isFromBefore && batches.length > 0 && <FromBefore partId={part.id} words={part.words} />}
      <section className="sheet" aria-labelledby="batches">
        <h2 id="batches">Batches</h2>
        {batches.length === 0 && (
          <EmptyState title="None have come yet." action={<Link href="/bench/parcels/new">Log a parcel</Link>}>
            <p>Log gifts as a parcel; add what you bought below.</p>
          </EmptyState>
        )}
        {batches.map((batch, index) => (
          <BatchSheet
            key={batch.id}
            batch={batch}
            donor={batch.donorId === null ? null : { id: batch.donorId, name: names.get(batch.donorId) ?? '' }}
            sampling={sampling[index]}
            notices={notices.filter((notice) => notice.batchId === batch.id)}
            changes={changes.filter((change) => change.batchId === batch.id)}
            touched={touches[index] ?? []}
            others={others}
            zone={campaign?.zone ?? 'UTC'}
            isMaker={person.role === 'maker'}
            price={batchPrices[batch.id] ?? null}
            currency={currency}
          />
        ))}
      </section>
      <section className="sheet stack narrow" aria-labelledby="price">
        <h2 id="price">Replacement price</h2>
        <p>
          {price
            ? `${showMoney(price.minor, currency)} for ${price.pieces === 1 ? 'one' : price.pieces}${price.source && `, ${price.source}`}. Said by ${price.by}, `
            : 'Nobody has said yet what it would cost to buy again. It is never shown to donors.'}
          {price && <When at={price.at} zone={campaign?.zone ?? 'UTC'} show="day" brief />}
        </p>
        <PriceForm of={{ partId: part.id }} name={part.words} price={price} currency={currency} />
      </section>
      <section className="sheet stack narrow" aria-labelledby="buy">
        <h2 id="buy">Bought, not given</h2>
        <BuyForm partId={part.id} />
      </section>
    </div>
  )
}
