import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { Bar, Key, longest } from '#app/_ui/bars/bar.tsx'
import { BarTable } from '#app/_ui/bars/bar-table.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { sayMinutes } from '#bench/spent/minutes.rules'
import type { SpentPage } from '#bench/spent/spent.contract'
import { showMoney } from '#kernel/money'
import { PriceList } from './price-list'
import { WeekForm } from './week-form'

export const metadata: Metadata = { title: 'Hours and parts' }

const ROLES = ['maker', 'volunteer', 'treasurer'] as const

/** What went into each machine. Nothing of it is public unless the maker chose it, machine by machine. */
export default async function HoursPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const page = await caller.spent.all()
  return (
    <div className="page stack wide">
      <Crumbs trail={[{ label: 'Rack', href: '/bench' }]} />
      <h1>Hours and parts</h1>
      {page.machines.length === 0 ? (
        <EmptyState title="Nothing has been done at the bench yet.">
          <p>The first fitting or reading of a machine begins its bar.</p>
        </EmptyState>
      ) : (
        <>
          <p>
            Hours are taken from what was noted at the bench. Parts stand at what they would cost to buy again. Nobody outside reads any of
            it unless you choose so on a machine’s own page.
          </p>
          <Hours {...page} />
          <Parts {...page} />
        </>
      )}
      {page.unpriced.length > 0 && person.role !== 'treasurer' && <PriceList parts={page.unpriced} currency={page.currency} />}
      <WeekForm week={page.week} isMaker={person.role === 'maker'} zone={campaign?.zone ?? 'UTC'} />
    </div>
  )
}

const toMachine = (tag: string) => `/bench/units/${encodeURIComponent(tag)}/hours`

function Hours({ machines, designs }: Pick<SpentPage, 'machines' | 'designs'>) {
  const top = longest(machines.map(({ minutes }) => minutes))
  const measured = designs.filter(({ medianMinutes }) => medianMinutes !== null)
  return (
    <section className="stack close" aria-labelledby="hours">
      <h2 id="hours">Hours at the bench</h2>
      {measured.length > 0 && (
        <ul>
          {measured.map(({ key, name, finished, medianMinutes }) => (
            <li key={key}>
              <b>{name}</b>:{' '}
              {finished === 1
                ? `the one finished machine took ${sayMinutes(medianMinutes ?? 0)}.`
                : `${finished} are finished; the one in the middle took ${sayMinutes(medianMinutes ?? 0)}.`}
            </li>
          ))}
        </ul>
      )}
      <BarTable caption="Hours at the bench, by machine" heads={['Machine', 'Bar', 'Hours']}>
        {machines.map(({ tag, designName, minutes, isFinished }) => (
          <tr key={tag}>
            <th scope="row">
              <Link className="code" prefetch={false} href={toMachine(tag)}>
                {tag}
              </Link>{' '}
              <span className="small quiet">
                {designName}
                {isFinished && ', finished'}
              </span>
            </th>
            <td>
              <Bar of={top} parts={[['hours', minutes]]} />
            </td>
            <td className="num">{sayMinutes(minutes)}</td>
          </tr>
        ))}
      </BarTable>
    </section>
  )
}

function Parts({ machines, currency }: Pick<SpentPage, 'machines' | 'currency'>) {
  const top = longest(machines.map(({ givenMinor, boughtMinor }) => givenMinor + boughtMinor))
  const sum = (of: (row: SpentPage['machines'][number]) => number) => machines.reduce((total, row) => total + of(row), 0)
  const given = sum(({ givenMinor }) => givenMinor)
  const bought = sum(({ boughtMinor }) => boughtMinor)
  const unpriced = sum((row) => row.unpriced)
  return (
    <section className="stack close" aria-labelledby="parts">
      <h2 id="parts">Parts at replacement price</h2>
      <p>
        {showMoney(given, currency)} of what is fitted was given and {showMoney(bought, currency)} was bought.
        {unpriced > 0 &&
          ` ${unpriced === 1 ? 'One piece has' : `${unpriced} pieces have`} no price yet and ${unpriced === 1 ? 'is' : 'are'} left out.`}
      </p>
      <Key parts={[['gift', 'given'] as const, ['cost', 'bought'] as const]} />
      <BarTable caption={`Parts at replacement price, by machine, ${currency}`} heads={['Machine', 'Bar, given and bought', 'Together']}>
        {machines.map((row) => (
          <tr key={row.tag}>
            <th scope="row">
              <Link className="code" prefetch={false} href={`${toMachine(row.tag)}#parts`}>
                {row.tag}
              </Link>
            </th>
            <td>
              <Bar
                of={top}
                parts={[
                  ['gift', row.givenMinor],
                  ['cost', row.boughtMinor],
                ]}
              />
              <div className="small quiet">{shares(row, currency)}</div>
            </td>
            <td className="num">{showMoney(row.givenMinor + row.boughtMinor, currency)}</td>
          </tr>
        ))}
      </BarTable>
    </section>
  )
}

function shares({ givenMinor, boughtMinor, unpriced }: SpentPage['machines'][number], currency: SpentPage['currency']): string {
  const priced =
    boughtMinor === 0
      ? givenMinor === 0
        ? []
        : ['all given']
      : givenMinor === 0
        ? ['all bought']
        : [`${showMoney(givenMinor, currency)} given`, `${showMoney(boughtMinor, currency)} bought`]
  return [...priced, ...(unpriced > 0 ? [`${unpriced} without a price`] : [])].join(', ')
}
