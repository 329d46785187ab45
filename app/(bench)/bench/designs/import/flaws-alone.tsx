'use client'

import type { TableFlaw } from '#kernel/table'
import styles from './import.module.css'

/** What is wrong where there is no cell to mend it in. */
export function FlawsAlone({ flaws }: { flaws: readonly TableFlaw[] }) {
  if (flaws.length === 0) return null
  return (
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
  )
}
