import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { When } from '#app/_ui/when.tsx'
import { groupBy } from '#kernel/group'
import { consentWords } from '#stock/donors/consent.rules'
import { StaffOnly } from '../_refused/staff-only'
import { SaveTable } from '../parcels/save-table'
import styles from './donors.module.css'
import { NewDonorForm } from './new-donor-form'
import { ToApprove } from './to-approve'

export const metadata: Metadata = { title: 'Donors' }

export default async function DonorsPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const [{ donors, gifts, toApprove }, thanks, sold] = await Promise.all([
    caller.donors.list(),
    caller.outcome.thanksDue(),
    caller.outcome.soldThanksDue(),
  ])
  const zone = campaign?.zone ?? 'UTC'
  const names = new Map(donors.map((donor) => [donor.id, donor]))
  const thanksOf = new Map(thanks.map((due) => [due.donorId, due]))
  const soldOf = new Map(sold.map((due) => [due.donorId, due]))
  const overdue = [...thanks, ...sold].filter((due) => due.overdue).length
  const asking = donors.filter((donor) => donor.askedCreditName !== null)
  const giftsOf = groupBy(gifts, (line) => line.donorId)
  return (
    <div className="page stack wide">
      <div className="row apart">
        <h1>Donors</h1>
        {overdue > 0 && <p className="amiss">{overdue === 1 ? 'One thanks is' : `${overdue} thanks are`} older than 48 hours</p>}
      </div>
      {toApprove.length > 0 && (
        <section className="sheet act stack" aria-labelledby="to-approve">
          <h2 id="to-approve">Promised from outside</h2>
          <p>Nobody sees these before they are accepted; then their givers are told where to send them.</p>
          {toApprove.map((line) => {
            const donor = names.get(line.donorId)
            return (
              <ToApprove
                key={line.id}
                giftId={line.id}
                what={`${line.quantity} × ${line.what}`}
                name={donor?.name ?? ''}
                mail={donor?.contact ?? ''}
                note={line.partId === null ? '' : line.words}
                campaign={campaign?.name ?? ''}
                mayDecide={person.role === 'maker'}
              />
            )
          })}
        </section>
      )}
      {asking.length > 0 && (
        <section className="sheet act stack close" aria-labelledby="asking">
          <h2 id="asking">Asked for on their own page</h2>
          {asking.map((donor) => (
            <p key={donor.id}>
              <Link href={`/bench/donors/${donor.id}`}>{donor.name}</Link> asks to be called “{donor.askedCreditName}”.
            </p>
          ))}
        </section>
      )}
      <div className={styles.two}>
        {donors.length === 0 ? (
          <EmptyState title="Nobody has given anything yet." action={<Link href="/bench/parcels/new">Log a parcel</Link>}>
            <p>A donor is written down with their first parcel, or here.</p>
          </EmptyState>
        ) : (
          <section className="sheet stack">
            <table className="cards">
              <caption className="visually-hidden">Donors, what they gave and how they may be named</caption>
              <thead>
                <tr>
                  <th scope="col">Name</th>
                  <th scope="col">Came</th>
                  <th scope="col">Promised</th>
                  <th scope="col">May be named</th>
                  <th scope="col">Thanks</th>
                </tr>
              </thead>
              <tbody>
                {donors.map((donor) => {
                  const own = giftsOf.get(donor.id) ?? []
                  const came = own.filter((line) => line.arrivedAt !== null).length
                  const awaited = own.filter((line) => line.state === 'promised' || line.state === 'on its way').length
                  const due = thanksOf.get(donor.id)
                  return (
                    <tr key={donor.id}>
                      <th scope="row">
                        <Link href={`/bench/donors/${donor.id}`}>{donor.name}</Link>{' '}
                        {!donor.approved && <Chip tone="doubt">Not approved</Chip>}{' '}
                        {donor.isStandIn && <Chip tone="doubt">Not claimed</Chip>}
                      </th>
                      <td data-label="Came">{came === 0 ? 'nothing yet' : came === 1 ? '1 gift' : `${came} gifts`}</td>
                      <td data-label="Promised">{awaited === 0 ? 'nothing open' : awaited === 1 ? '1 gift' : `${awaited} gifts`}</td>
                      <td data-label="May be named" className="small">
                        {donor.anonymity === 'named'
                          ? consentWords(donor.consents)
                          : donor.anonymity === 'friend'
                            ? 'As “a friend”.'
                            : 'Not at all.'}
                      </td>
                      <td data-label="Thanks">
                        <span>
                          {donor.isStandIn ? (
                            'nobody known'
                          ) : due ? (
                            <span className={due.overdue ? 'amiss' : undefined}>
                              due since <When at={due.since} zone={zone} show="day" brief />
                            </span>
                          ) : came > 0 ? (
                            'sent'
                          ) : (
                            'none due'
                          )}
                          {soldOf.has(donor.id) && (
                            <span className={soldOf.get(donor.id)?.overdue ? 'amiss' : undefined}>
                              {'; '}
                              {soldWords(soldOf.get(donor.id)?.lots ?? [])}
                            </span>
                          )}
                        </span>
                      </td>
                    </tr>
                  )
                })}
              </tbody>
            </table>
            <SaveTable what="donors" />
          </section>
        )}
        <section className="sheet stack" aria-labelledby="new-donor">
          <h2 id="new-donor">Write down a donor</h2>
          <NewDonorForm />
        </section>
      </div>
    </div>
  )
}

const soldWords = (lots: readonly number[]): string => (lots.length === 1 ? `lot ${lots[0]} has sold` : `${lots.length} lots have sold`)
