import type { inferRouterOutputs } from '@trpc/server'
import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Unbroken } from '#app/_ui/unbroken.tsx'
import { When } from '#app/_ui/when.tsx'
import type { RootRouter } from '#doors/trpc/root'
import type { CatalogueEntry } from '#stock/catalogue/parts-meant.rules'
import { countedThing } from '#stock/donors/count-words.rules'
import { listWords } from '#stock/donors/gift.rules'
import { StaffOnly } from '../_refused/staff-only'
import { ClaimForm } from './claim-form'
import { NameGift } from './name-gift'
import styles from './parcels.module.css'
import { SaveTable } from './save-table'

export const metadata: Metadata = { title: 'Parcels' }

/** So many lines of a parcel are read at a glance; the rest unfold. */
const FIRST_LINES = 4

/** What is here and was written in words alone may be a part of the catalogue. */
const IN_HAND: readonly string[] = ['arrived', 'counted', 'inspected', 'available', 'spare']

export default async function ParcelsPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const [parcels, { donors }, catalogue] = await Promise.all([caller.parcels.list(), caller.donors.list(), caller.parcels.catalogue()])
  const known = donors.filter(({ isStandIn }) => !isStandIn).map(({ id, name }) => ({ id, name }))
  const unclaimed = parcels.filter(({ isUnclaimed }) => isUnclaimed).length
  const zone = campaign?.zone ?? 'UTC'
  return (
    <div className="page stack">
      <div className="row apart">
        <h1>Parcels</h1>
        <Link className="button" href="/bench/parcels/new">
          A parcel has come
        </Link>
      </div>
      {unclaimed > 0 && (
        <p>
          <b>{unclaimed === 1 ? 'One parcel is' : `${unclaimed} parcels are`} from an unknown sender.</b> When you know who sent it, say so
          on the parcel.
        </p>
      )}
      {parcels.length === 0 && (
        <EmptyState title="No parcel has come yet.">
          <p>Log the first one with your phone: a photograph, who sent it, how many.</p>
        </EmptyState>
      )}
      <ul className={`plain-list ${styles.parcels}`}>
        {parcels.map((parcel) => (
          <li key={parcel.id} className={styles.parcel}>
            {parcel.photoSha ? (
              // biome-ignore lint/performance/noImgElement: our files come in three widths already.
              <img
                src={`/files/${parcel.photoSha}-480.webp`}
                alt={`The parcel from ${parcel.donorName}`}
                loading="lazy"
                className={styles.photo}
              />
            ) : (
              <span className={styles.noPhoto}>No photograph</span>
            )}
            <div className="stack close">
              <h2>
                <Link href={`/bench/donors/${parcel.donorId}`}>{parcel.donorName}</Link>
              </h2>
              <p className="small quiet">
                <When at={parcel.arrivedAt} zone={zone} brief />
              </p>
              <ParcelLines lines={parcel.lines.slice(0, FIRST_LINES)} catalogue={catalogue} />
              {parcel.lines.length > FIRST_LINES && (
                <details>
                  <summary>
                    {parcel.lines.length - FIRST_LINES} more inside<span className="visually-hidden"> from {parcel.donorName}</span>
                  </summary>
                  <ParcelLines lines={parcel.lines.slice(FIRST_LINES)} catalogue={catalogue} />
                </details>
              )}
              {parcel.unblocked.length > 0 && (
                <p className={styles.unblocked}>
                  <b>
                    <Unbroken>{listWords(parcel.unblocked, 'and')}</Unbroken>
                  </b>{' '}
                  can now be built thanks to it.
                </p>
              )}
              {parcel.fittedIn.length > 0 && (
                <p className="small">
                  <Unbroken>{`Fitted in ${listWords(parcel.fittedIn, 'and')}.`}</Unbroken>
                </p>
              )}
              {parcel.isUnclaimed && <ClaimForm parcelId={parcel.id} standInId={parcel.donorId} likely={parcel.likely} donors={known} />}
              {parcel.note !== '' && <p className="small quiet">“{parcel.note}”</p>}
            </div>
          </li>
        ))}
      </ul>
      {parcels.length > 0 && (
        <div className="row">
          <SaveTable what="parcels" />
          <SaveTable what="gifts" />
        </div>
      )}
    </div>
  )
}

function ParcelLines({
  lines,
  catalogue,
}: {
  catalogue: readonly CatalogueEntry[]
  lines: inferRouterOutputs<RootRouter>['parcels']['list'][number]['lines']
}) {
  return (
    <ul className="plain-list">
      {lines.map((line) => (
        <li key={line.id}>
          <Unbroken>{countedThing(line, line.what)}</Unbroken>{' '}
          {line.batchCode && line.partId && (
            <Link className={`code ${styles.batch}`} href={`/bench/parts/${line.partId}#${line.batchCode}`}>
              {line.batchCode}
            </Link>
          )}
          {line.partId === null && IN_HAND.includes(line.state) && <NameGift giftId={line.id} words={line.words} catalogue={catalogue} />}
        </li>
      ))}
    </ul>
  )
}
