import type { BuildPage } from '#bench/buildable/build.service'
import { collapseDesignators } from '#stock/catalogue/designator.rules'
import styles from './build.module.css'
import { CELL_STATES, CELL_WORDS, cellState, cellWords } from './cell.rules'
import { CellMark } from './cell-mark'
import { type ShownUnit, shownOf } from './shown.rules'

type Design = BuildPage['designs'][number]

const CELL = 18
const LEFT = 132
const HEAD = 76

/** Units down, lines across: what is there, on its way and missing. The table below says the same in words. */
export function BuildPicture({ design }: { design: Design }) {
  const { name } = design
  const { columns, left, units } = shownOf(design)
  const width = LEFT + columns.length * CELL + 4
  const height = HEAD + units.length * CELL + 4
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard */}
      <section className={styles.scroll} tabIndex={0} aria-label={`Picture of ${name}`}>
        <svg
          viewBox={`0 0 ${width} ${height}`}
          style={{ width, height }}
          className={styles.picture}
          role="img"
          aria-label={`Where the pieces for each unit of ${name} stand; the table below says the same`}
        >
          {columns.map(({ lineId, designators }, column) => (
            <text
              key={lineId}
              className={styles.head}
              transform={`translate(${LEFT + column * CELL + 13} ${HEAD - 6}) rotate(-90)`}
              textLength={collapseDesignators(designators).length > 9 ? 66 : undefined}
            >
              {short(collapseDesignators(designators))}
            </text>
          ))}
          {units.map(({ unit, cells }, row) => (
            <g key={unit.unitId} transform={`translate(0 ${HEAD + row * CELL})`}>
              <rect className={unit.buildable ? styles.can : styles.cannot} x={0} y={1} width={LEFT - 6} height={CELL - 2} />
              <text className={styles.tag} x={8} y={13}>
                {unit.tag}
              </text>
              <text className={styles.says} x={LEFT - 12} y={13} textAnchor="end">
                {unit.buildable ? 'can' : 'waits'}
              </text>
              {columns.map(({ lineId }, column) => (
                <g key={lineId} transform={`translate(${LEFT + column * CELL + 2} 2)`}>
                  <CellMark state={cellState(cells[column])} />
                </g>
              ))}
            </g>
          ))}
        </svg>
      </section>
      {left > 0 && (
        <p className="small quiet">
          The {columns.length} lines that most units wait for; {left} more are on the list.
        </p>
      )}
      <details>
        <summary>The same as a table</summary>
        <BuildTable name={name} units={units} />
      </details>
    </>
  )
}

const short = (text: string) => (text.length > 12 ? `${text.slice(0, 11)}…` : text)

/** What each unit still waits for, in words; lines that lack nothing are not repeated. */
function BuildTable({ name, units }: { name: string; units: ShownUnit[] }) {
  return (
    <table className="cards">
      <caption>{name}, unit by unit</caption>
      <thead>
        <tr>
          <th scope="col">Unit</th>
          <th scope="col">Now</th>
          <th scope="col">What is missing</th>
        </tr>
      </thead>
      <tbody>
        {units.map(({ unit: { unitId, tag, buildable }, lacks, more }) => (
          <tr key={unitId}>
            <th scope="row" className="code">
              {tag}
            </th>
            <td data-label="Now">{buildable ? 'can be built' : 'waits'}</td>
            <td data-label={buildable ? undefined : 'What is missing'}>
              {!buildable && (
                <ul className="plain-list small">
                  {lacks.map(({ column: { lineId, part, quantity, designators }, line }) => (
                    <li key={lineId}>
                      <span className="code several">{collapseDesignators(designators)}</span> {part.words}: {cellWords(line, quantity)}
                    </li>
                  ))}
                  {more > 0 && <li>and {more} more lines</li>}
                </ul>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** What each mark of the picture means. */
export function Key() {
  return (
    <ul className={`plain-list ${styles.key}`}>
      {CELL_STATES.map((state) => (
        <li key={state} className="small">
          <svg viewBox="0 0 14 14" width={14} height={14} aria-hidden="true">
            <CellMark state={state} />
          </svg>
          {CELL_WORDS[state]}
        </li>
      ))}
    </ul>
  )
}
