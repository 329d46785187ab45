import type { Metadata } from 'next'
import Link from 'next/link'
import { redirect } from 'next/navigation'
import { orRefused } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { RefusedPage } from '#app/(bench)/bench/_refused/refused-page.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import type { DonorCard } from '#stock/donors/donor.service'
import { AskedNaming } from './asked-naming'
import styles from './donor.module.css'
import { Gifts } from './gifts'
import { AsShown, MayBeNamed } from './naming'
import { NewGift } from './new-gift'
import { MergedRecords, TwoRecords } from './one-donor'
import { OwnPage } from './own-page'
import { SoldThanksDue, ThanksDue } from './thanks-due'

export const metadata: Metadata = { title: 'Donor' }

const TRAIL = [{ label: 'Donors', href: '/bench/donors' }]

export default async function DonorPage({ params }: { params: Promise<{ id: string }> }) {
  const { id: donorId } = await params
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const page = await caller.outcome.donorPage({ donorId }).catch(orRefused)
  if ('refused' in page) return <RefusedPage words={page.refused} trail={TRAIL} />
  const { donor, thanks, soldThanks } = page
  // An address of a record that was merged leads to the one that was kept.
  if (donor.mergedIntoId !== null) redirect(`/bench/donors/${donor.mergedIntoId}`)
  const goals = await caller.gifts.goals()
  const { name = '', zone = 'UTC', currency = null } = campaign ?? {}
  const isMaker = person.role === 'maker'
  return (
    <div className="page stack wide">
      <Crumbs trail={TRAIL} />
      <Head donor={donor} />
      <div className={styles.two}>
        <div className="stack wide">
          {thanks && <ThanksDue donor={donor} thanks={thanks} />}
          {soldThanks && <SoldThanksDue donor={donor} thanks={soldThanks} />}
          <Gifts page={page} goals={goals} campaign={{ name, zone, currency }} mayDecline={isMaker} />
          <NewGift donorId={donor.id} currency={currency} goals={goals} />
        </div>
        <div className="stack wide">
          <MayBeNamed donor={donor} />
          <AsShown donor={donor} />
          {!donor.isStandIn && <OwnPage donorId={donor.id} hasMail={donor.contact !== ''} madeAt={page.linkMadeAt} zone={zone} />}
          <MergedRecords records={page.mergedRecords} zone={zone} />
          {isMaker && !donor.isStandIn && <TwoRecords donor={donor} doubles={page.doubles} />}
        </div>
      </div>
    </div>
  )
}

/** Who it is, and what is not settled yet about who it is. */
function Head({ donor }: { donor: DonorCard }) {
  return (
    <>
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
            If it is a donor on the list, say so <Link href="/bench/parcels">on the parcel</Link>. If it is somebody new, write their name
            below.
          </p>
        </Notice>
      )}
      {donor.askedCreditName !== null && (
        <AskedNaming donorId={donor.id} creditName={donor.askedCreditName} sayIt={donor.askedSayIt ?? ''} />
      )}
    </>
  )
}
