import type { CellState } from '#bench/faults/glance.contract'
import styles from './run.module.css'

export const CELL_WORDS: Record<CellState, string> = {
  pass: 'passes',
  'pass within doubt': 'passes within doubt',
  'fail within doubt': 'fails within doubt',
  fail: 'fails',
  searching: 'passed while searching',
  lost: 'lost, to be taken again',
  none: 'not taken yet',
}

/** What stands, by shape and shade: light and round is good, dark and cornered is not. A nick in the corner: it failed once. */
export function CellMark({ state, hasFailed }: { state: CellState; hasFailed: boolean }) {
  return (
    <svg viewBox="0 0 28 28" className={styles.mark} aria-hidden="true">
      {state === 'pass' && <circle className={styles.good} cx="14" cy="14" r="8" />}
      {state === 'pass within doubt' && <path className={styles.doubt} d="M14 4L24 14L14 24L4 14Z" />}
      {state === 'fail within doubt' && (
        <>
          <path className={styles.dark} d="M14 2L26 14L14 26L2 14Z" />
          <path className={styles.cut} d="M9 14H19" />
        </>
      )}
      {state === 'fail' && (
        <>
          <rect className={styles.dark} x="2" y="2" width="24" height="24" />
          <path className={styles.cut} d="M8 8L20 20M20 8L8 20" />
        </>
      )}
      {state === 'searching' && <circle className={styles.open} cx="14" cy="14" r="7" />}
      {state === 'lost' && <path className={styles.stroke} d="M6 14H22" />}
      {state === 'none' && <circle className={styles.speck} cx="14" cy="14" r="1.6" />}
      {hasFailed && state !== 'fail' && <path className={styles.dark} d="M28 0V11L17 0Z" />}
    </svg>
  )
}
