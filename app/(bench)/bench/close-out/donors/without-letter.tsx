import Link from 'next/link'
import type { LastLettersView } from '#end/last-letters/last-letters.contract'

/** The donors who get no letter, each with the reason. */
export function WithoutLetter({ donors }: { donors: LastLettersView['without'] }) {
  return (
    <div className="scroll">
      <table className="cards">
        <caption>No letter, and why</caption>
        <thead>
          <tr>
            <th scope="col">Donor</th>
            <th scope="col">Why not</th>
          </tr>
        </thead>
        <tbody>
          {donors.map(({ donorId, name, why }) => (
            <tr key={donorId}>
              <th scope="row">
                <Link prefetch={false} href={`/bench/donors/${donorId}`}>
                  {name}
                </Link>
              </th>
              <td data-label="Why not">{why}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
