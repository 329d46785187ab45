import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '../_refused/staff-only'
import { SaveTable } from '../parcels/save-table'
import styles from './donors.module.css'
import { DonorsTable } from './donors-table'
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
  const overdue = [...thanks, ...sold].filter((due) => due.overdue).length
  const asking = donors.filter((donor) => donor.askedCreditName !== null)
  return (
    <div className="page stack wide">
      <div className="row apart">
        <h1>Donors</h1>
        {overdue > 0 && <p className="amiss">{overdue === 1 ? 'One thanks is' : `${overdue} thanks are`} older than 48 hours</p>}
      </div>
      {toApprove.length > 0 && (
        <section className="sheet act stack" aria-labelledby="to-approve">
          <h2 id="to-approve">Promised online</h2>
          <p>Nobody sees these until they are accepted; then the donors are told where to send them.</p>
          {toApprove.map((line) => {
            const donor = names.get(line.donorId)
            return (
              <ToApprove
                key={line.id}
                giftId={line.id}
                what={`${line.quantity} × ${line.what}`}
                name={donor?.name ?? ''}
                donorId={line.donorId}
                mailHint={donor?.mailHint ?? ''}
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
          <h2 id="asking">Requests from donors’ own pages</h2>
          {asking.map((donor) => (
            <p key={donor.id}>
              <Link href={`/bench/donors/${donor.id}`}>{donor.name}</Link> asks to be called “{donor.askedCreditName}”.
            </p>
          ))}
        </section>
      )}
      <details className="sheet">
        <summary>Add a donor</summary>
        <div className={styles.form}>
          <NewDonorForm />
        </div>
      </details>
      {person.role === 'maker' && (
        <p>
          <Link href="/bench/sheets/new/donors">Bring donors from a spreadsheet</Link>
        </p>
      )}
      {donors.length === 0 ? (
        <EmptyState title="Nobody has given anything yet." action={<Link href="/bench/parcels/new">Log a parcel</Link>}>
          <p>A donor is added with their first parcel, or here.</p>
        </EmptyState>
      ) : (
        <section className="sheet stack">
          <DonorsTable donors={donors} gifts={gifts} thanks={thanks} sold={sold} zone={zone} />
          <SaveTable what="donors" />
        </section>
      )}
    </div>
  )
}
