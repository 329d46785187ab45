import type { Flaw } from '../../../../../server/designs/design.contract'
import type { SheetReading } from '../../../../../server/designs/import.rules'
import { Chip } from '../../../../_ui/chip'
import styles from './import.module.css'

export interface ReadingProps {
  list: Flaw['list']
  label: string
  answer: { sheets: SheetReading[]; flaws: Flaw[] }
}

/** How one list was read: its columns, its flaws by line and column, and every row as it was understood. */
export function Reading({ list, label, answer }: ReadingProps) {
  const sheet = answer.sheets.find((one) => one.list === list)
  const flaws = answer.flaws.filter((flaw) => flaw.list === list)
  if (!sheet) return null
  const wrong = new Set(flaws.map(({ line }) => line))
  return (
    <section className="sheet stack" aria-label={`${label} as it was read`} role="status">
      <h2 className="row">
        {label}{' '}
        {flaws.length === 0 ? (
          <Chip tone="ok">{`${sheet.rows.length} rows read`}</Chip>
        ) : (
          <Chip tone="bad">{`${flaws.length} to mend`}</Chip>
        )}
      </h2>
      <p className="small quiet">
        {sheet.encoding}, separated by {sheet.delimiter}. Columns:{' '}
        {sheet.columns
          .map(({ heading, column }) =>
            column === null ? `“${heading}” left out` : heading === column ? column : `“${heading}” as ${column}`,
          )
          .join(', ')}
      </p>
      {flaws.length > 0 && (
        <table className="cards">
          <caption>What is to be mended</caption>
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
          <summary>Every row as it was understood</summary>
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
              {sheet.rows.map(({ line, understood }) => (
                <tr key={line} className={wrong.has(line) ? styles.flaw : undefined}>
                  <td className="num">{line}</td>
                  <td>{understood}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      )}
    </section>
  )
}
