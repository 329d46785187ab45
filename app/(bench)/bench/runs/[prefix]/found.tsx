import Link from 'next/link'
import type { GlanceView } from '#bench/faults/glance.contract'

/** Faults of the run that were found and closed: each has sharpened where to look for the next. */
export function Found({ closed }: { closed: GlanceView['closed'] }) {
  if (closed.length === 0) return null
  const minutes = closed.reduce((sum, one) => sum + one.minutes, 0)
  return (
    <section className="sheet">
      <table className="cards">
        <caption>Faults that were found, {Math.round(minutes / closed.length)} minutes each on average</caption>
        <thead>
          <tr>
            <th scope="col">Unit</th>
            <th scope="col">Symptom</th>
            <th scope="col">Block</th>
            <th scope="col">What was changed</th>
            <th scope="col" className="num">
              Minutes
            </th>
          </tr>
        </thead>
        <tbody>
          {closed.map((one) => (
            <tr key={`${one.tag} ${one.symptom}`}>
              <th scope="row">
                <Link href={`/bench/units/${one.tag}/fault`} className="code">
                  {one.tag}
                </Link>
              </th>
              <td data-label="Symptom">{one.symptom}</td>
              <td data-label="Block">{one.block ?? 'nothing was wrong'}</td>
              <td data-label="What was changed">{one.changed}</td>
              <td className="num" data-label="Minutes">
                {one.minutes}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
