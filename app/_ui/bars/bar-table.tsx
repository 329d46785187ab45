import type { ReactNode } from 'react'
import styles from './bars.module.css'

interface BarTableProps {
  caption: string
  /** What a row is, what its bar is, what its figure is; for those who do not see that they are. */
  heads: readonly [row: string, bar: string, figure: string]
  children: ReactNode
}

/** A table whose bars are the picture. */
export function BarTable({ caption, heads, children }: BarTableProps) {
  return (
    <table className={styles.bars}>
      <caption className="visually-hidden">{caption}</caption>
      <thead className="visually-hidden">
        <tr>
          {heads.map((head) => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>{children}</tbody>
    </table>
  )
}
