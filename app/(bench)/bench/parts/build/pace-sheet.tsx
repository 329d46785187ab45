import Link from 'next/link'
import { Chip } from '#app/_ui/chip.tsx'
import type { BuildPage } from '#bench/buildable/build.service'
import { sayMinutes } from '#bench/spent/minutes.rules'

/** By when machines that have all their parts could be ready, from the hours that finished ones of their design took. */
export function PaceSheet({ pace: { weeklyMinutes, rows }, readyOn }: { pace: BuildPage['pace']; readyOn: string }) {
  const stated = rows.some(({ isMeasured }) => !isMeasured)
  return (
    <section className="sheet stack" aria-labelledby="pace">
      <h2 id="pace">When they could be ready</h2>
      {weeklyMinutes === null ? (
        <p>
          Nobody has said how many hours a week the bench has. <Link href="/bench/hours#week">Say it</Link>, and a day stands here for each
          machine.
        </p>
      ) : (
        <>
          <p>
            With {sayMinutes(weeklyMinutes)} a week at the bench, one machine after the other, at the hours that finished ones of the same
            design took. <Link href="/bench/hours#week">Change the hours</Link>
          </p>
          {rows.length === 0 ? (
            <p className="quiet">No machine waits for the bench alone.</p>
          ) : (
            <table className="cards">
              <caption className="visually-hidden">When machines could be ready</caption>
              <thead>
                <tr>
                  <th scope="col">Machine</th>
                  <th scope="col" className="num">
                    Work left
                  </th>
                  <th scope="col">Ready by</th>
                  <th scope="col">In time?</th>
                </tr>
              </thead>
              <tbody>
                {rows.map((row) => (
                  <tr key={row.tag}>
                    <th scope="row">
                      <Link className="code" prefetch={false} href={`/bench/units/${row.tag}`}>
                        {row.tag}
                      </Link>
                    </th>
                    <td className="num" data-label="Work left">
                      {row.leftMinutes === 0 ? 'none by that measure' : sayMinutes(row.leftMinutes)}
                      {!row.isMeasured && '*'}
                    </td>
                    <td data-label="Ready by">{row.readyOn}</td>
                    <td data-label="In time?">
                      {row.readyOn <= readyOn ? <Chip tone="ok">in time</Chip> : <Chip tone="doubt">after {readyOn}</Chip>}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
          {stated && (
            <p className="small quiet">* No machine of its design is finished: the days at the bench below stand for the hours it takes.</p>
          )}
          <p className="small quiet">Machines that wait for parts are not in it. A soak runs beside the next machine.</p>
        </>
      )}
    </section>
  )
}
