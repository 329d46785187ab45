import type { Catches } from './types'

/** Each check with the blocks that it can see, by how well; what was set is said. */
export function CatchTable({ table }: { table: Catches }) {
  return (
    <section className="sheet">
      <table className="cards">
        <caption>Checks, and what each sees</caption>
        <thead>
          <tr>
            <th scope="col">Check</th>
            <th scope="col">Sees</th>
          </tr>
        </thead>
        <tbody>
          {table.checks.map(({ key, title, catches }) => {
            const sees = catches.filter(({ usual, set }) => usual > 0 || set !== null)
            return (
              <tr key={key}>
                <th scope="row">
                  <span className="code">{key}</span> {title}
                </th>
                <td data-label="Sees">{sees.length === 0 ? 'no block' : sees.map(words).join(', ')}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </section>
  )
}

const words = ({ block, usual, set }: Catches['checks'][number]['catches'][number]) =>
  set === null ? `${block} ${Math.round(usual * 100)} %` : `${block} ${Math.round(set * 100)} % (set; usual ${Math.round(usual * 100)} %)`
