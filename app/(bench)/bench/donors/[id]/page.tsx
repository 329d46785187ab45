import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound, redirect } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'
import { StaffOnly } from '#app/(bench)/bench/_shell/staff-only.tsx'
import { becameWords } from '#gifts/outcome/thanks-letter.rules'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { listWords } from '#stock/donors/gift.rules'
import { ConsentSwitches } from '../consent-switches'
import { DeclineGift } from '../decline-gift'
import styles from '../donors.module.css'
import { AskedNaming } from './asked-naming'
import { DonorForm } from './donor-form'
import { GiftForm } from './gift-form'
import { MergeForm } from './merge-form'
import { OwnPage } from './own-page'
import { PutRight } from './put-right'
import { ThanksForm } from './thanks-form'

const CHANGED = { state: '', quantity: 'count ', restriction: '', approval: '', donor: 'from ' } as const

export const metadata: Metadata = { title: 'Donor' }

export default async function DonorPage({ params }: { params: Promise<{ id: string }> }) {
  const { id: donorId } = await params
  const caller = await api()
  const { person, campaign } = await caller.campaign.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const page = await caller.outcome.donorPage({ donorId }).catch((reason: unknown) => {
    if (reason instanceof Error && reason.cause instanceof Refusal) notFound()
    throw reason
  })
  const [parts, goals, { donors }] = await Promise.all([caller.parts.list(), caller.gifts.goals(), caller.donors.list()])
  const { donor, gifts, changes, thanks, soldThanks } = page
  // An address of a record that was merged leads to the one that was kept.
  if (donor.mergedIntoId !== null) redirect(`/bench/donors/${donor.mergedIntoId}`)
  const zone = campaign?.zone ?? 'UTC'
  const currency = campaign?.currency ?? 'GBP'
  const withLot = new Map(page.withLots.map(({ giftId, number }) => [giftId, number]))
  const others = donors
    .filter(({ id, isStandIn }) => id !== donor.id && !isStandIn)
    .map(({ id, name, contact }) => ({ id, label: contact === '' ? name : `${name} (${contact})` }))
  const became = new Map(page.became.map((row) => [row.giftId, row]))
  return (
    <div className="page stack wide">
      <Crumbs trail={[{ label: 'Donors', href: '/bench/donors' }]} />
      <div className="row">
        <h1>{donor.name}</h1>
        {!donor.approved && <Chip tone="doubt">Not approved</Chip>}
        {donor.isStandIn && <Chip tone="doubt">Not claimed</Chip>}
        {donor.consents.card && donor.approved && donor.anonymity === 'named' && (
          <a href={`/bench/donors/${donor.id}/card.pdf`}>Card to send (PDF)</a>
        )}
      </div>
      {donor.isStandIn && (
        <Notice tone="doubt" title="Nobody knows yet who sent this">
          <p>
            If it is a donor of the list, say so <Link href="/bench/parcels">at the parcel</Link>. If it is somebody new, write their name
            below.
          </p>
        </Notice>
      )}
      {donor.askedCreditName !== null && (
        <AskedNaming donorId={donor.id} creditName={donor.askedCreditName} sayIt={donor.askedSayIt ?? ''} />
      )}
      <div className={styles.two}>
        <div className="stack wide">
          {thanks && (
            <section className="sheet act stack" aria-labelledby="thanks">
              <h2 id="thanks">Thanks are due for what came</h2>
              <ThanksForm donorId={donor.id} giftIds={thanks.giftIds} draft={thanks.draft} hasMail={donor.contact !== ''} />
            </section>
          )}
          {soldThanks && (
            <section className="sheet act stack" aria-labelledby="sold-thanks">
              <h2 id="sold-thanks">
                {soldThanks.lots.length === 1
                  ? `Lot ${soldThanks.lots[0]} has`
                  : `Lots ${listWords(soldThanks.lots.map(String), 'and')} have`}{' '}
                sold, with their gifts
              </h2>
              {soldThanks.stillToEnd.length > 0 && (
                <p className="small">
                  Still to end with gifts of theirs:{' '}
                  {listWords(
                    soldThanks.stillToEnd.map((number) => `lot ${number}`),
                    'and',
                  )}
                  . The letter may wait for {soldThanks.stillToEnd.length === 1 ? 'it' : 'them'}.
                </p>
              )}
              <ThanksForm donorId={donor.id} giftIds={null} draft={soldThanks.draft} hasMail={donor.contact !== ''} />
            </section>
          )}
          <section className="sheet" aria-labelledby="gifts">
            <h2 id="gifts">Gifts</h2>
            {gifts.length === 0 && <EmptyState title="Nothing was given or promised yet." />}
            {gifts.map((line) => {
              const now = became.get(line.id)
              const history = changes.filter((change) => change.giftId === line.id)
              return (
                <div key={line.id} className={styles.gift}>
                  <p>
                    <b>
                      {line.amountMinor !== null
                        ? `${showMoney(line.amountMinor, currency)}, ${line.what}`
                        : now && line.arrivedAt !== null
                          ? becameWords(now)
                          : `${line.quantity} × ${line.what}`}
                    </b>{' '}
                    {now?.batchCode && <span className="code">{now.batchCode}</span>}
                  </p>
                  <p className="small quiet">
                    {line.state}
                    {line.promisedAt !== null && (
                      <>
                        , promised on <When at={line.promisedAt} zone={zone} show="day" brief />
                      </>
                    )}
                    {line.arrivedAt !== null && (
                      <>
                        , came on <When at={line.arrivedAt} zone={zone} show="day" brief />
                      </>
                    )}
                    {(line.onlyForUnitId !== null || line.onlyForDesignId !== null) && `, ${onlyForWords(goals, line)}`}
                    {withLot.has(line.id) && `, goes with lot ${withLot.get(line.id)}`}
                    {line.arrivedAt !== null && (line.thankedAt === null ? ', not thanked for yet' : ', thanked for')}
                  </p>
                  {history.length > 0 && (
                    <details>
                      <summary className="small">What was changed</summary>
                      <ul className={`${styles.history} small`}>
                        {history.map((change) => (
                          <li key={change.id}>
                            {change.what === 'approval' ? 'accepted' : `${CHANGED[change.what]}${change.was || 'nothing'} → ${change.now}`}
                            {change.reason !== '' && `: ${change.reason}`}, <When at={change.at} zone={zone} brief />
                          </li>
                        ))}
                      </ul>
                    </details>
                  )}
                  <div className="row">
                    {person.role === 'maker' && (line.state === 'promised' || line.state === 'on its way') && (
                      <DeclineGift
                        giftId={line.id}
                        what={line.what}
                        name={donor.name}
                        campaign={campaign?.name ?? ''}
                        hasMail={donor.contact !== ''}
                      />
                    )}
                  </div>
                  <PutRight
                    gift={{ ...line, onlyFor: onlyForValue(line), batchId: now?.batchId ?? null }}
                    name={donor.name}
                    campaign={campaign?.name ?? ''}
                    hasMail={donor.contact !== ''}
                    goals={goals}
                    withLot={withLot.get(line.id) ?? null}
                  />
                </div>
              )
            })}
          </section>
          <section className="sheet stack" aria-labelledby="new-gift">
            <h2 id="new-gift">A promise, or help without a parcel</h2>
            <p className="small quiet">
              What comes in a parcel is logged <Link href="/bench/parcels/new">as a parcel</Link>.
            </p>
            <GiftForm donorId={donor.id} parts={parts.map(({ id, words }) => ({ id, words }))} currency={currency} goals={goals} />
          </section>
        </div>
        <div className="stack wide">
          <section className="sheet stack" aria-labelledby="naming">
            <h2 id="naming">May we name them?</h2>
            <ConsentSwitches donorId={donor.id} consents={donor.consents} />
            <p className="small quiet">Withdrawing takes effect everywhere at once, but a printed card cannot be recalled.</p>
          </section>
          <section className="sheet stack" aria-labelledby="name">
            <h2 id="name">As they are shown</h2>
            <DonorForm donor={donor} />
          </section>
          {!donor.isStandIn && (
            <section className="sheet stack" aria-labelledby="own-page">
              <h2 id="own-page">Their own page</h2>
              <OwnPage
                donorId={donor.id}
                hasMail={donor.contact !== ''}
                madeOn={
                  page.linkMadeAt === null ? null : (
                    <>
                      The link that opens it was made on <When at={page.linkMadeAt} zone={zone} brief />.
                    </>
                  )
                }
              />
            </section>
          )}
          {page.mergedRecords.length > 0 && (
            <section className="stack close" aria-labelledby="merged">
              <h2 id="merged">Made one with this</h2>
              <ul className="small">
                {page.mergedRecords.map((record) => (
                  <li key={record.id}>
                    {record.name}
                    {record.contact !== '' && ` (${record.contact})`}
                    {record.mergedAt !== null && (
                      <>
                        , <When at={record.mergedAt} zone={zone} brief />
                      </>
                    )}
                  </li>
                ))}
              </ul>
            </section>
          )}
          {person.role === 'maker' && !donor.isStandIn && others.length > 0 && (
            <details className="sheet" open={page.doubles.length > 0}>
              <summary>
                <b>Two records of one donor?</b>
              </summary>
              <MergeForm keptId={donor.id} keptName={donor.name} others={others} doubles={page.doubles} />
            </details>
          )}
        </div>
      </div>
    </div>
  )
}

interface Kept {
  onlyForUnitId: string | null
  onlyForDesignId: string | null
}

const onlyForValue = ({ onlyForUnitId, onlyForDesignId }: Kept): string =>
  onlyForUnitId !== null ? `unit:${onlyForUnitId}` : onlyForDesignId !== null ? `design:${onlyForDesignId}` : ''

function onlyForWords(goals: { units: { id: string; tag: string }[]; designs: { id: string; name: string }[] }, kept: Kept): string {
  const unit = goals.units.find(({ id }) => id === kept.onlyForUnitId)
  const design = goals.designs.find(({ id }) => id === kept.onlyForDesignId)
  return `only for ${unit?.tag ?? design?.name ?? 'what its giver said'}`
}
