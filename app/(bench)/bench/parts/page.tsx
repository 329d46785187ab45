import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { classes } from '#app/_ui/classes.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { Unbroken } from '#app/_ui/unbroken.tsx'
import { listWords } from '#stock/donors/gift.rules'
import { StaffOnly } from '../_refused/staff-only'
import { PartForm } from './part-form'
import { SaveParts } from './save-parts'
import { SearchBox } from './search-box'
import { Unblockers } from './unblockers'

export const metadata: Metadata = { title: 'Parts' }

export default async function PartsPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'volunteer') return <StaffOnly roles={['maker', 'volunteer']} person={person} />
  const [{ lines }, build, { donors }, notices] = await Promise.all([
    caller.buildable.parts(),
    caller.buildable.now(),
    caller.parcels.start(),
    person.role === 'maker' ? caller.quarantine.notices() : [],
  ])
  const untold = notices.filter(({ toldAt }) => toldAt === null)
  const names = Object.fromEntries(donors.map(({ id, name }) => [id, name]))
  const units = build.designs.flatMap((design) => design.units)
  const can = units.filter(({ buildable }) => buildable).map(({ tag }) => tag)
  const waiting = units.length - can.length
  return (
    <div className="page stack wide">
      <div className="row apart">
        <h1>Parts</h1>
        <Link className="button" href="/bench/scan">
          Scan a label
        </Link>
      </div>
      {untold.length > 0 && (
        <Notice tone="bad" title="Somebody still has to be told about a quarantine">
          <ul>
            {untold.map(({ id, name, code, partId }) => (
              <li key={id}>
                {name}, about <Link href={`/bench/parts/${partId}#${code}`}>{code}</Link>
              </li>
            ))}
          </ul>
        </Notice>
      )}
      <section className="sheet">
        <SearchBox names={names} />
      </section>
      {build.designs.length > 0 && (
        <section className="stack close" aria-labelledby="now">
          <h2 id="now">What can be built now</h2>
          <p>
            {can.length === 0 ? (
              'For no unit is everything it still needs in hand. '
            ) : (
              <>
                <b>
                  <Unbroken>{listWords(can, 'and')}</Unbroken>
                </b>
                : everything still to be fitted is in hand.{' '}
              </>
            )}
            {waiting > 0 && `${waiting} more ${waiting === 1 ? 'waits' : 'wait'} for parts. `}
            <Link href="/bench/parts/build">See it unit by unit: what is short, and what comes when</Link>
          </p>
        </section>
      )}
      {build.unblockers.length > 0 && <Unblockers parts={build.unblockers} waiting={waiting} />}
      {lines.length === 0 ? (
        <EmptyState title="The catalogue is empty.">
          <p>Parts come in when you import a design, or you can add them below.</p>
        </EmptyState>
      ) : (
        <section className="sheet">
          <table className="cards">
            <caption>The catalogue</caption>
            <thead>
              <tr>
                <th scope="col">Part</th>
                <th scope="col">Kind</th>
                <th scope="col" className="num">
                  In hand
                </th>
                <th scope="col" className="num">
                  Fitted
                </th>
                <th scope="col" className="num">
                  Short
                </th>
                <th scope="col">Worth knowing</th>
              </tr>
            </thead>
            <tbody>
              {lines.map(({ part, inHand, fitted, short, quarantined }) => (
                <tr key={part.id}>
                  <th scope="row">
                    <Link href={`/bench/parts/${part.id}`}>
                      <Unbroken>{part.words}</Unbroken>
                    </Link>
                  </th>
                  <td data-label="Kind">{part.kind}</td>
                  <td className="num" data-label="In hand">
                    {inHand}
                  </td>
                  <td className="num" data-label="Fitted">
                    {fitted}
                  </td>
                  <td className={classes('num', short > 0 && 'amiss')} data-label="Short">
                    {short}
                  </td>
                  <td data-label={part.programmed || part.hardToFind || quarantined > 0 ? 'Worth knowing' : undefined}>
                    <span className="row">
                      {part.programmed && <Chip>Programmed</Chip>}
                      {part.hardToFind && <Chip tone="doubt">Hard to find</Chip>}
                      {quarantined > 0 && <Chip tone="bad">Quarantined</Chip>}
                    </span>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          <div className="row">
            <SaveParts what="parts" />
            <SaveParts what="batches" />
            <SaveParts what="pieces" />
          </div>
        </section>
      )}
      {person.role === 'maker' && (
        <p>
          <Link href="/bench/sheets/new/shelf">Bring parts on the shelf from a spreadsheet</Link>
        </p>
      )}
      <section className="sheet stack narrow" aria-labelledby="new-part">
        <h2 id="new-part">Add a part</h2>
        <PartForm />
      </section>
    </div>
  )
}
