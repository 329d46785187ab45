import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { becameWords } from '../../../../../server/donors/letters.rules'
import { showMoney } from '../../../../../server/kernel/money'
import { Refusal } from '../../../../../server/kernel/refusal'
import { api } from '../../../../_trpc/server'
import { Chip } from '../../../../_ui/chip'
import { Crumbs } from '../../../../_ui/crumbs'
import { EmptyState } from '../../../../_ui/empty-state'
import { When } from '../../../../_ui/when'
import { StaffOnly } from '../../_shell/staff-only'
import { ConsentSwitches } from '../consent-switches'
import styles from '../donors.module.css'
import { DonorForm } from './donor-form'
import { GiftForm } from './gift-form'
import { MoveGift } from './move-gift'
import { ThanksForm } from './thanks-form'

export const metadata: Metadata = { title: 'Donor' }

export default async function DonorPage({ params }: { params: Promise<{ id: string }> }) {
  const { id: donorId } = await params
  const caller = await api()
  const { person, campaign } = await caller.campaign.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const page = await caller.donors.one({ donorId }).catch((reason: unknown) => {
    if (reason instanceof Error && reason.cause instanceof Refusal) notFound()
    throw reason
  })
  const parts = await caller.parts.list()
  const { donor, gifts, changes, thanks } = page
  const zone = campaign?.zone ?? 'UTC'
  const currency = campaign?.currency ?? 'GBP'
  const became = new Map(page.became.map((row) => [row.giftId, row]))
  return (
    <div className="page stack wide">
      <Crumbs trail={[{ label: 'Donors', href: '/bench/donors' }]} />
      <div className="row">
        <h1>{donor.name}</h1>
        {!donor.approved && <Chip tone="doubt">Not approved</Chip>}
      </div>
      <div className={styles.two}>
        <div className="stack wide">
          {thanks && (
            <section className="sheet act stack" aria-labelledby="thanks">
              <h2 id="thanks">Thanks are due</h2>
              <ThanksForm donorId={donor.id} giftIds={thanks.giftIds} draft={thanks.draft} hasMail={donor.contact !== ''} />
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
                    {(line.onlyForUnitId !== null || line.onlyForDesignId !== null) && ', only for what its giver said'}
                    {line.arrivedAt !== null && (line.thankedAt === null ? ', not thanked for yet' : ', thanked for')}
                  </p>
                  {history.length > 0 && (
                    <details>
                      <summary className="small">What was changed</summary>
                      <ul className={`${styles.history} small`}>
                        {history.map((change) => (
                          <li key={change.id}>
                            {change.what === 'approval' ? 'accepted' : `${change.was} → ${change.now}`}
                            {change.reason !== '' && `: ${change.reason}`}, <When at={change.at} zone={zone} brief />
                          </li>
                        ))}
                      </ul>
                    </details>
                  )}
                  <MoveGift giftId={line.id} state={line.state} what={line.what} />
                </div>
              )
            })}
          </section>
          <section className="sheet stack" aria-labelledby="new-gift">
            <h2 id="new-gift">A promise, or help without a parcel</h2>
            <p className="small quiet">
              What comes in a parcel is logged <Link href="/bench/parcels/new">as a parcel</Link>.
            </p>
            <GiftForm donorId={donor.id} parts={parts.map(({ id, words }) => ({ id, words }))} currency={currency} />
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
        </div>
      </div>
    </div>
  )
}
