import type { inferRouterOutputs } from '@trpc/server'
import Link from 'next/link'
import { Chip } from '#app/_ui/chip.tsx'
import { When } from '#app/_ui/when.tsx'
import type { RootRouter } from '#doors/trpc/root'
import { groupBy } from '#kernel/group'
import { consentWords } from '#stock/donors/consent.rules'

type Out = inferRouterOutputs<RootRouter>
type Donor = Out['donors']['list']['donors'][number]
type Gift = Out['donors']['list']['gifts'][number]
type Thanks = Out['outcome']['thanksDue'][number]
type SoldThanks = Out['outcome']['soldThanksDue'][number]

interface DonorsTableProps {
  donors: readonly Donor[]
  gifts: readonly Gift[]
  thanks: readonly Thanks[]
  sold: readonly SoldThanks[]
  zone: string
}

/** Everybody who gave or promised: what came, what is awaited, how they may be named, and which thanks are due. */
export function DonorsTable({ donors, gifts, thanks, sold, zone }: DonorsTableProps) {
  const thanksOf = new Map(thanks.map((due) => [due.donorId, due]))
  const soldOf = new Map(sold.map((due) => [due.donorId, due]))
  const giftsOf = groupBy(gifts, (line) => line.donorId)
  return (
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
        {donors.map((donor) => (
          <DonorRow
            key={donor.id}
            donor={donor}
            gifts={giftsOf.get(donor.id) ?? []}
            due={thanksOf.get(donor.id)}
            sold={soldOf.get(donor.id)}
            zone={zone}
          />
        ))}
      </tbody>
    </table>
  )
}

interface DonorRowProps {
  donor: Donor
  gifts: readonly Gift[]
  due: Thanks | undefined
  sold: SoldThanks | undefined
  zone: string
}

function DonorRow({ donor, gifts, due, sold, zone }: DonorRowProps) {
  const came = gifts.filter((line) => line.arrivedAt !== null).length
  const awaited = gifts.filter((line) => line.state === 'promised' || line.state === 'on its way').length
  return (
    <tr>
      <th scope="row">
        <Link href={`/bench/donors/${donor.id}`}>{donor.name}</Link> {!donor.approved && <Chip tone="doubt">Not approved</Chip>}{' '}
        {donor.isStandIn && <Chip tone="doubt">Not claimed</Chip>}
      </th>
      <td data-label="Came">{came === 0 ? 'nothing yet' : came === 1 ? '1 gift' : `${came} gifts`}</td>
      <td data-label="Promised">{awaited === 0 ? 'nothing open' : awaited === 1 ? '1 gift' : `${awaited} gifts`}</td>
      <td data-label="May be named" className="small">
        {donor.anonymity === 'named' ? consentWords(donor.consents) : donor.anonymity === 'friend' ? 'As “a friend”.' : 'Not at all.'}
      </td>
      <td data-label="Thanks">
        <span>
          {donor.isStandIn ? (
            'not known'
          ) : due ? (
            <span className={due.overdue ? 'amiss' : undefined}>
              due since <When at={due.since} zone={zone} show="day" brief />
            </span>
          ) : came > 0 ? (
            'sent'
          ) : (
            'none due'
          )}
          {sold && (
            <span className={sold.overdue ? 'amiss' : undefined}>
              {'; '}
              {soldWords(sold.lots)}
            </span>
          )}
        </span>
      </td>
    </tr>
  )
}

const soldWords = (lots: readonly number[]): string => (lots.length === 1 ? `lot ${lots[0]} has sold` : `${lots.length} lots have sold`)
