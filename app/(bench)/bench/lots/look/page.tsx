import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import type { Pattern } from '#sale/fairness/fairness.contract'

export const metadata: Metadata = { title: 'Worth a look' }

const TITLES: Record<Pattern['kind'], string> = {
  connected: 'Connected, and bid',
  pushing: 'One bidder only ever pushes up one other',
  device: 'The same browser',
  address: 'The same network',
  retractions: 'Asked to withdraw a bid',
}

const nameOf = ({ paddle, name }: Pattern['people'][number]): string => (paddle === null ? name : `${name} (paddle ${paddle})`)

/** Patterns with their evidence, for the maker alone. Nothing on this page does anything. */
export default async function LookPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  const patterns = await caller.bidding.patterns()
  return (
    <div className="page stack">
      <Crumbs trail={[{ href: '/bench/lots', label: 'Lots' }]} />
      <h1>Worth a look</h1>
      <p>
        Each of these can have an innocent reason, and the program does nothing about any of them. If bids have to go, two members of staff
        void them on the lot’s page, with a reason everybody can read.
      </p>
      {patterns.length === 0 ? (
        <EmptyState title="Nothing deserves a look.">
          Accounts that share a browser or a network, requests to withdraw a bid, a bidder who only ever pushes up one other, and bids by
          connected people would be listed here.
        </EmptyState>
      ) : (
        patterns.map((pattern) => (
          <section key={`${pattern.kind} ${pattern.people.map(nameOf).join()}`} className="sheet stack close">
            <h2>{TITLES[pattern.kind]}</h2>
            <p>
              <b>{pattern.kind === 'pushing' ? pattern.people.slice(0, 1).map(nameOf) : pattern.people.map(nameOf).join(', ')}</b>:{' '}
              {pattern.words}
              {pattern.kind === 'pushing' && ` The other is ${pattern.people.slice(1).map(nameOf).join()}.`}
            </p>
            {pattern.evidence.length === 0 ? (
              <p className="small quiet">They did not bid on the same lot.</p>
            ) : (
              <ul>
                {pattern.evidence.map(({ lot, words }) => (
                  <li key={lot}>
                    <Link prefetch={false} href={`/bench/lots/${lot}`}>
                      Lot {lot}
                    </Link>
                    : {words}
                  </li>
                ))}
              </ul>
            )}
          </section>
        ))
      )}
      <p className="small quiet">
        Only keyed hashes of addresses and browsers are kept, enough to see that two are the same; they are deleted 30 days after the
        stream.
      </p>
    </div>
  )
}
