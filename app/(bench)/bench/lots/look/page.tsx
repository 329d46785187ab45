import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import type { Pattern } from '#sale/fairness/fairness.contract'

export const metadata: Metadata = { title: 'What deserves a look' }

const TITLES: Record<Pattern['kind'], string> = {
  connected: 'Connected, and bid',
  pushing: 'One bidder always pushes one other',
  device: 'The same browser',
  address: 'The same network',
  retractions: 'Asked that a bid be taken back',
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
      <h1>What deserves a look</h1>
      <p>
        Each of these can have an innocent reason, and the program does nothing about any of them. If bids have to go, two of the staff void
        them on the page of the lot, with a reason that everybody can read.
      </p>
      {patterns.length === 0 ? (
        <EmptyState title="Nothing deserves a look.">
          Accounts that share a browser or a network, bids that were asked back, a bidder who only ever pushes one other, and connected
          people who bid would stand here.
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
        Of addresses and browsers only keyed hashes are kept, enough to see that two are the same; they are deleted 30 days after the
        stream.
      </p>
    </div>
  )
}
