import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '../_refused/staff-only'
import { InstrumentForm } from './instrument-form'

export const metadata: Metadata = { title: 'Designs' }

export default async function DesignsPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || person.role === 'bidder') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const [designs, runs, instruments] = await Promise.all([caller.designs.list(), caller.bringup.runs(), caller.bringup.instruments()])
  const isMaker = person.role === 'maker'
  const day = (at: number) => new Date(at).toISOString().slice(0, 10)
  return (
    <div className="page stack">
      <div className="row apart">
        <h1>Designs</h1>
        {isMaker && (
          <Link className="button" href="/bench/designs/import">
            Import a design
          </Link>
        )}
      </div>
      {designs.length === 0 ? (
        <EmptyState title="No design has been imported yet.">
          A design is three lists: its parts, its checklist, and what feeds what. Import them from CSV files, or paste them.
        </EmptyState>
      ) : (
        <section className="sheet">
          <table className="cards">
            <caption className="visually-hidden">Designs and their runs</caption>
            <thead>
              <tr>
                <th scope="col">Design</th>
                <th scope="col">Revision</th>
                <th scope="col" className="num">
                  Positions
                </th>
                <th scope="col" className="num">
                  Checks
                </th>
                <th scope="col">Judged</th>
                <th scope="col">Runs</th>
              </tr>
            </thead>
            <tbody>
              {designs.map((design) => (
                <tr key={design.id}>
                  <th scope="row">
                    <Link href={`/bench/designs/${design.id}`}>{design.name}</Link>
                  </th>
                  <td data-label="Revision">{design.revision}</td>
                  <td data-label="Positions" className="num">
                    {design.positions}
                  </td>
                  <td data-label="Checks" className="num">
                    {design.checks}
                  </td>
                  <td data-label="Judged">{design.decisionRule.replaceAll('-', ' ')}</td>
                  <td data-label="Runs">
                    {runs
                      .filter(({ designId }) => designId === design.id)
                      .map(({ tagPrefix }) => tagPrefix)
                      .join(', ') || 'none yet'}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
      {isMaker && (
        <p>
          <Link href="/bench/earlier">Machines built before this house</Link>
        </p>
      )}
      <section className="sheet stack">
        <h2>Instruments</h2>
        {instruments.length === 0 ? (
          <p className="quiet">None yet. Each reading says which instrument it was taken with, and its doubt follows from that.</p>
        ) : (
          <table className="cards">
            <caption className="visually-hidden">Instruments, their accuracy, and when they are due to be checked</caption>
            <thead>
              <tr>
                <th scope="col">Instrument</th>
                <th scope="col">Accuracy</th>
                <th scope="col">Last checked</th>
                <th scope="col">Due again</th>
              </tr>
            </thead>
            <tbody>
              {instruments.map(({ id, name, accuracy, checkedAt, dueAt, isOverdue }) => (
                <tr key={id}>
                  <th scope="row">
                    <Link href={`/bench/designs/instruments/${id}`}>{name}</Link>
                  </th>
                  <td data-label="Accuracy">{accuracy}</td>
                  <td data-label="Last checked">{day(checkedAt)}</td>
                  <td data-label="Due again">
                    {day(dueAt)}
                    {isOverdue && ', past its date'}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        {isMaker && (
          <details>
            <summary>Add an instrument</summary>
            <InstrumentForm />
          </details>
        )}
      </section>
    </div>
  )
}
