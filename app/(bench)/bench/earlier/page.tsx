import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Money } from '#app/_ui/money.tsx'
import { showMoney } from '#kernel/money'
import { StaffOnly } from '../_refused/staff-only'
import { ForgetMachine } from './forget-machine'

export const metadata: Metadata = { title: 'Earlier machines' }

const hours = (minutes: number) => `${Number((minutes / 60).toFixed(1))}`

export default async function EarlierPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  const { machines, designs } = await caller.earlier.read()
  const bring = (
    <Link className="button-line" href="/bench/sheets/new/machines">
      Bring a sheet of them
    </Link>
  )
  return (
    <div className="page stack wide">
      <h1>Earlier machines</h1>
      <p>
        What you built before this house was here. It is seen by nobody but you, counts in no campaign’s sums, and to whom a machine went is
        not stored.
      </p>
      {machines.length === 0 ? (
        <EmptyState title="No earlier machine is noted." action={bring}>
          <p>A spreadsheet with a row for each is enough.</p>
        </EmptyState>
      ) : (
        <>
          <section className="sheet">
            <table className="cards">
              <caption>What they come to, by design</caption>
              <thead>
                <tr>
                  <th scope="col">Design</th>
                  <th scope="col" className="num">
                    Machines
                  </th>
                  <th scope="col" className="num">
                    Hours each, on average
                  </th>
                  <th scope="col">Raised</th>
                </tr>
              </thead>
              <tbody>
                {designs.map(({ design, machines: many, timed, meanMinutes, raised }) => (
                  <tr key={design}>
                    <th scope="row">{design}</th>
                    <td className="num" data-label="Machines">
                      {many}
                    </td>
                    <td className="num" data-label="Hours each, on average">
                      {meanMinutes === null ? 'not known' : `${hours(meanMinutes)}${timed < many ? ` (of ${timed})` : ''}`}
                    </td>
                    <td data-label="Raised">
                      {raised.length === 0
                        ? 'not known'
                        : raised.map(({ currency, minor, machines: sold }) => `${showMoney(minor, currency)} by ${sold}`).join(', ')}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
          <section className="sheet">
            <table className="cards">
              <caption>Each machine</caption>
              <thead>
                <tr>
                  <th scope="col">Machine</th>
                  <th scope="col">Built</th>
                  <th scope="col" className="num">
                    Hours
                  </th>
                  <th scope="col" className="num">
                    Raised
                  </th>
                  <th scope="col">What became of it</th>
                  <th scope="col">
                    <span className="visually-hidden">Remove</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {machines.map(({ id, design, serial, builtOn, minutes, raisedMinor, currency, fate, fateOn }) => (
                  <tr key={id}>
                    <th scope="row">{`${design} ${serial}`.trim()}</th>
                    <td data-label="Built">{builtOn ?? 'not known'}</td>
                    <td className="num" data-label="Hours">
                      {minutes === null ? 'not known' : hours(minutes)}
                    </td>
                    <td className="num" data-label="Raised">
                      {raisedMinor === null || currency === null ? 'not known' : <Money minor={raisedMinor} currency={currency} />}
                    </td>
                    <td data-label="What became of it">{fateOn === null ? fate : `${fate}, ${fateOn}`}</td>
                    <td>
                      <ForgetMachine id={id} called={`${design} ${serial}`.trim()} />
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
          <p>{bring}</p>
        </>
      )}
    </div>
  )
}
