import styles from './build.module.css'
import type { CellState } from './cell.rules'

/** One cell of the picture, 14 by 14: a shape for each state, so that it is read without colour. */
export function CellMark({ state }: { state: CellState }) {
  switch (state) {
    case 'fitted':
      return <circle className={styles.fitted} cx={7} cy={7} r={2.5} />
    case 'there':
      return <rect className={styles.there} x={1} y={1} width={12} height={12} />
    case 'instead':
      return (
        <>
          <rect className={styles.there} x={1} y={1} width={12} height={12} />
          <path className={styles.cut} d="M1 13L13 1" />
        </>
      )
    case 'on its way':
      return (
        <>
          <rect className={styles.outline} x={1.75} y={1.75} width={10.5} height={10.5} />
          <path className={styles.half} d="M2 12V2L12 12Z" />
        </>
      )
    case 'promised':
      return <rect className={styles.outline} x={1.75} y={1.75} width={10.5} height={10.5} />
    default:
      return <path className={styles.missing} d="M2 2L12 12M12 2L2 12" />
  }
}
