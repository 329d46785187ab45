import Link from 'next/link'
import type { WholeDesign } from '#bench/designs/designs.service'
import { collapseDesignators } from '#stock/catalogue/designator.rules'

/** The parts list as it stands, and the way to its substitutes. */
export function PartsSection({ design }: { design: WholeDesign }) {
  return (
    <section className="sheet stack">
      <p>
        <Link href={`/bench/designs/${design.id}/parts`}>Substitutes, a new list, and the list as CSV</Link>
      </p>
      <table className="cards">
        <caption>Parts list</caption>
        <thead>
          <tr>
            <th scope="col">Positions</th>
            <th scope="col" className="num">
              Count
            </th>
            <th scope="col">Part</th>
            <th scope="col">Block</th>
            <th scope="col">Fitted</th>
          </tr>
        </thead>
        <tbody>
          {design.lines.map((line) => (
            <tr key={line.id}>
              <th scope="row" className="code several">
                {collapseDesignators(line.designators)}
              </th>
              <td className="num" data-label="Count">
                {line.quantity}
              </td>
              <td data-label="Part">
                {line.part.words}
                {line.part.programmed && ', programmed'}
                {line.notes !== '' && <span className="small quiet"> {line.notes}</span>}
              </td>
              <td data-label="Block">{design.positions.find(({ lineId }) => lineId === line.id)?.blocks.join(', ')}</td>
              <td data-label="Fitted">{line.fittedAfter === null ? 'from the start' : `after ${line.fittedAfter}`}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
