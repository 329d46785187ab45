import { Chip } from '#app/_ui/chip.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { CHECKLIST_COLUMNS } from '#bench/designs/checklist.rules'
import type { Flaw } from '#bench/designs/design.contract'
import { FEEDS_COLUMNS } from '#bench/designs/feeds.rules'
import type { SheetReading } from '#bench/designs/import.rules'
import { PARTS_COLUMNS } from '#bench/designs/read-parts-list.rules'
import type { TableChoice } from '#kernel/table-in'
import { ColumnChooser } from './column-chooser'
import styles from './import.module.css'

/** Rows beyond these are counted only: a browser need not draw five thousand of them. */
const MOST_SHOWN = 400

export interface ReadingProps {
  list: Flaw['list']
  label: string
  answer: { sheets: SheetReading[]; flaws: Flaw[] }
  choice: TableChoice
  onChoose(choice: TableChoice): void
}

const WANTED: Record<Flaw['list'], readonly string[]> = {
  partsList: PARTS_COLUMNS.map(({ name }) => name),
  checklist: CHECKLIST_COLUMNS.map(({ name }) => name),
  feeds: FEEDS_COLUMNS.map(({ name }) => name),
}

/** How one list was read: its columns, its flaws by line and column, and every row as it was understood. */
export function Reading({ list, label, answer, choice, onChoose }: ReadingProps) {
  const sheet = answer.sheets.find((one) => one.list === list)
  const flaws = answer.flaws.filter((flaw) => flaw.list === list)
  if (!sheet) return null
  const asked = sheet.rows.filter(({ hint }) => hint).length
  const wrong = new Set(flaws.map(({ line }) => line))
  return (
    <section className="sheet stack" aria-label={`${label} as it was read`} role="status">
      <h2 className="row">
        {label}{' '}
        {flaws.length === 0 ? (
          <Chip tone="ok">{`${sheet.rows.length} rows read`}</Chip>
        ) : (
          <Chip tone="bad">{`${flaws.length} to correct`}</Chip>
        )}
      </h2>
      <ColumnChooser sheet={sheet} wanted={WANTED[list]} choice={choice} onChoose={onChoose} />
      {sheet.taken && sheet.taken.length > 0 && (
        <Notice tone={sheet.taken[0]?.startsWith('Nothing gates power') ? 'doubt' : 'info'} title="What the stages were taken to be">
          <ul>
            {sheet.taken.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
          <p className="small">
            Not so? Columns “stage kind” (visual, cold, rails, close-out or other) and “gates power” (y or n) say it row by row.
          </p>
        </Notice>
      )}
      {flaws.length > 0 && (
        <table className="cards">
          <caption>What to correct</caption>
          <thead>
            <tr>
              <th scope="col" className="num">
                Line
              </th>
              <th scope="col">Column</th>
              <th scope="col">What to do</th>
            </tr>
          </thead>
          <tbody>
            {flaws.map(({ line, column, words }) => (
              <tr key={`${line} ${column} ${words}`} className={styles.flaw}>
                <td className="num" data-label="Line">
                  {line || '·'}
                </td>
                <td data-label="Column">{column || '·'}</td>
                <td data-label="What to do">{words}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {sheet.rows.length > 0 && (
        <details open={flaws.length === 0 && sheet.rows.length < 12 ? true : undefined}>
          <summary>
            Every row as it was understood
            {asked > 0 && `, ${asked} with a question`}
          </summary>
          <table>
            <thead>
              <tr>
                <th scope="col" className="num">
                  Line
                </th>
                <th scope="col">Understood</th>
              </tr>
            </thead>
            <tbody>
              {sheet.rows.slice(0, MOST_SHOWN).map(({ line, understood, hint }) => (
                <tr key={line} className={wrong.has(line) ? styles.flaw : undefined}>
                  <td className="num">{line}</td>
                  <td>
                    {understood}
                    {hint && <b className="small"> {hint}</b>}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          {sheet.rows.length > MOST_SHOWN && <p className="small quiet">And {sheet.rows.length - MOST_SHOWN} more, read the same way.</p>}
        </details>
      )}
    </section>
  )
}
