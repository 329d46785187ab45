import type { Metadata } from 'next'
import Link from 'next/link'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { collapseDesignators } from '#stock/catalogue/designator.rules'
import { PartsForm } from './parts-form'
import { SaveList } from './save-list'
import { SubstituteForms } from './substitute-forms'

export const metadata: Metadata = { title: 'Parts list' }

export default async function PartsListPage({ params }: { params: Promise<{ id: string }> }) {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const { id } = await params
  const [design, accepted, parts] = await Promise.all([
    caller.designs.get({ id }).catch(orNotFound),
    caller.designs.substitutes({ id }),
    caller.parts.list(),
  ])
  const instead = new Map(accepted.map((row) => [row.lineId, row.parts]))
  const isMaker = person.role === 'maker'
  return (
    <div className="page stack wide">
      <Crumbs
        trail={[
          { label: 'Designs', href: '/bench/designs' },
          { label: design.name, href: `/bench/designs/${id}` },
        ]}
      />
      <h1>
        Parts list{' '}
        <span className="quiet">
          {design.name}, revision {design.revision}
        </span>
      </h1>
      <section className="sheet stack">
        <table className="cards">
          <caption className="visually-hidden">Lines, their parts and what can be used instead</caption>
          <thead>
            <tr>
              <th scope="col">Positions</th>
              <th scope="col" className="num">
                Count
              </th>
              <th scope="col">Part</th>
              <th scope="col">Fitted</th>
              <th scope="col">Or instead</th>
            </tr>
          </thead>
          <tbody>
            {design.lines.map(({ id: lineId, part, quantity, designators, fittedAfter, notes }) => {
              const own = instead.get(lineId) ?? []
              const positions = collapseDesignators(designators)
              const known = new Set([part.id, ...own.map((one) => one.part.id)])
              const others = parts.filter((one) => one.kind === part.kind && one.programmed === part.programmed && !known.has(one.id))
              return (
                <tr key={lineId}>
                  <th scope="row" className="code several">
                    {positions}
                  </th>
                  <td className="num" data-label="Count">
                    {quantity}
                  </td>
                  <td data-label="Part">
                    <Link href={`/bench/parts/${part.id}`}>{part.words}</Link> {part.programmed && <Chip>Programmed</Chip>}
                    {notes !== '' && <span className="small quiet"> {notes}</span>}
                  </td>
                  <td data-label="Fitted">{fittedAfter === null ? 'from the start' : `after ${fittedAfter}`}</td>
                  <td data-label={own.length > 0 ? 'Or instead' : undefined}>
                    {isMaker ? (
                      <SubstituteForms
                        lineId={lineId}
                        positions={positions}
                        substitutes={own.map((one) => ({ partId: one.part.id, words: one.part.words, reason: one.reason }))}
                        others={others.map(({ id: partId, words }) => ({ id: partId, words }))}
                      />
                    ) : (
                      own.map((one) => one.part.words).join('; ')
                    )}
                  </td>
                </tr>
              )
            })}
            {design.leftEmpty.map(({ line, part, designators, notes }) => (
              <tr key={`empty ${line}`}>
                <th scope="row" className="code several">
                  {collapseDesignators(designators)}
                </th>
                <td className="num" data-label="Count">
                  0
                </td>
                <td data-label="Part">
                  {part.words}
                  {notes !== '' && <span className="small quiet"> {notes}</span>}
                </td>
                <td data-label="Fitted">
                  <Chip>Not fitted</Chip>
                </td>
                <td />
              </tr>
            ))}
          </tbody>
        </table>
        <div className="row">
          <SaveList designId={id} />
        </div>
      </section>
      {isMaker && (
        <section className="sheet stack" aria-labelledby="new-list">
          <h2 id="new-list">Import a new list</h2>
          <p>
            From a CSV file or pasted from a spreadsheet. You see how everything is read first; nothing is stored while any line is wrong,
            and importing the same list again changes nothing.
          </p>
          <PartsForm designId={id} revision={design.revision} blocks={design.blocks} />
        </section>
      )}
    </div>
  )
}
