import Link from 'next/link'
import { Unbroken } from '#app/_ui/unbroken.tsx'
import type { BuildPage } from '#bench/buildable/build.service'
import { listWords } from '#stock/donors/gift.rules'
import { SaveShortfall } from '../save-parts'
import { MOST_ROWS } from './shown.rules'

/** What is short for the units that cannot be built, and where it is. */
export function Shortfall({ rows }: { rows: BuildPage['shortfall'] }) {
  return (
    <section className="sheet stack" aria-labelledby="shortfall">
      <h2 id="shortfall">The shortfall</h2>
      <table className="cards">
        <caption className="visually-hidden">Parts that are short</caption>
        <thead>
          <tr>
            <th scope="col">Part</th>
            <th scope="col" className="num">
              Short
            </th>
            <th scope="col" className="num">
              On its way
            </th>
            <th scope="col" className="num">
              Promised
            </th>
            <th scope="col" className="num">
              To be asked for
            </th>
            <th scope="col">Waiting</th>
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, MOST_ROWS).map(({ part, short, onItsWay, promised, missing, unread, quarantined, units }) => (
            <tr key={part.id}>
              <th scope="row">
                <Link href={`/bench/parts/${part.id}`}>
                  <Unbroken>{part.words}</Unbroken>
                </Link>
                {unread > 0 && <span className="small quiet"> {unread} in hand, not yet read</span>}
                {quarantined > 0 && <span className="small quiet"> {quarantined} in quarantine</span>}
              </th>
              <td className="num" data-label="Short">
                {short}
              </td>
              <td className="num" data-label="On its way">
                {onItsWay}
              </td>
              <td className="num" data-label="Promised">
                {promised}
              </td>
              <td className="num" data-label="To be asked for">
                {missing}
              </td>
              <td data-label="Waiting">
                <Unbroken>{units.length > 3 ? `${units.length} units` : listWords(units, 'and')}</Unbroken>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length > MOST_ROWS && (
        <p className="small quiet">
          The {MOST_ROWS} parts that most units wait for; {rows.length - MOST_ROWS} more are in the table that you can save.
        </p>
      )}
      <SaveShortfall />
    </section>
  )
}
