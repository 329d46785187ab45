import Link from 'next/link'
import { CELLS, type Cell, type GlanceCheck, type GlanceView } from '#bench/faults/glance.contract'
import { CELL_WORDS, CellMark } from './cell-mark'
import styles from './run.module.css'

/** Units across, checks down. It is a table, so that it is read out cell by cell as well. */
export function GlanceTable({ view }: { view: GlanceView }) {
  const stages = [...new Set(view.checks.map(({ stage }) => stage))]
  return (
    <section className="sheet stack" aria-labelledby="glance">
      <h2 id="glance">Units across, checks down</h2>
      <Legend />
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard */}
      <section className={styles.scroll} tabIndex={0} aria-label="Every check of every unit">
        <table className={styles.glance}>
          <caption className="visually-hidden">Every check of every unit of {view.prefix}</caption>
          <thead>
            <tr>
              <th scope="col">Check</th>
              {view.units.map(({ tag, fault, setAside }) => (
                <th key={tag} scope="col" className={styles.unit}>
                  <Link
                    href={`/bench/units/${tag}`}
                    aria-label={`${tag}${fault === null ? '' : ', a fault is open'}${setAside ? ', set aside' : ''}`}
                  >
                    {tag.replace(/^.*-/, '')}
                  </Link>
                  {fault !== null && <span aria-hidden="true">!</span>}
                </th>
              ))}
            </tr>
          </thead>
          {stages.map((stage) => (
            <tbody key={stage}>
              <tr className={styles.stage}>
                <th scope="rowgroup" colSpan={view.units.length + 1}>
                  {stage}
                </th>
              </tr>
              {view.checks
                .filter((check) => check.stage === stage)
                .map((check) => (
                  <Row key={check.key} check={check} />
                ))}
            </tbody>
          ))}
        </table>
      </section>
    </section>
  )
}

function Row({ check }: { check: GlanceCheck }) {
  return (
    <tr>
      <th scope="row">
        <span className="code">{check.key}</span> <span className={styles.what}>{check.title}</span>
      </th>
      {check.cells.map((cell) => (
        <td key={cell.tag} title={`${cell.tag} ${words(cell)}`}>
          <CellMark {...cell} />
          <span className="visually-hidden">{words(cell)}</span>
        </td>
      ))}
    </tr>
  )
}

const words = ({ state, entry, hasFailed }: Cell) =>
  `${entry === '' ? '' : `${entry}, `}${CELL_WORDS[state]}${hasFailed && state !== 'fail' ? ', failed once' : ''}`

function Legend() {
  return (
    <ul className={styles.legend}>
      {CELLS.map((state) => (
        <li key={state}>
          <CellMark state={state} hasFailed={false} /> {CELL_WORDS[state]}
        </li>
      ))}
      <li>
        <CellMark state="pass" hasFailed /> failed once
      </li>
    </ul>
  )
}
