'use client'

import { TextButton } from '#app/_ui/text-button.tsx'
import styles from './import.module.css'

/** Rows beyond these are counted only: a browser need not draw five thousand of them. */
const MOST_SHOWN = 400

export interface UnderstoodRowsProps {
  rows: readonly { line: number; understood: string; hint?: string | null; cells?: Record<string, string> }[]
  /** How many there are in all. */
  count: number
  isOpen: boolean
  wrong: ReadonlySet<number>
  /** Those whose cells stand open already. */
  mendable: ReadonlySet<number>
  onMend(line: number): void
}

/** Each row as it was understood; one that was understood otherwise than it is meant can be opened to be mended. */
export function UnderstoodRows({ rows, count, isOpen, wrong, mendable, onMend }: UnderstoodRowsProps) {
  if (rows.length === 0) return null
  const shown = rows.slice(0, MOST_SHOWN)
  const asked = rows.filter(({ hint }) => hint).length
  return (
    <details open={isOpen ? true : undefined}>
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
            <th scope="col">
              <span className="visually-hidden">Mend</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {shown.map(({ line, understood, hint, cells }) => (
            <tr key={line} className={wrong.has(line) ? styles.flaw : undefined}>
              <td className="num">{line}</td>
              <td>
                {understood || <span className="quiet">not understood yet</span>}
                {hint && <b className="small"> {hint}</b>}
              </td>
              <td>
                {cells && !mendable.has(line) && (
                  <TextButton label={`Mend line ${line}`} press={() => onMend(line)}>
                    Mend
                  </TextButton>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {count > shown.length && <p className="small quiet">And {count - shown.length} more, read the same way.</p>}
    </details>
  )
}
