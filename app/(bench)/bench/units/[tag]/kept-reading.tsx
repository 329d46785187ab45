import type { ReactNode } from 'react'
import { VerdictChip } from '#app/_ui/verdict-chip.tsx'
import type { Verdict } from '#bench/units/verdict.rules'
import styles from './kept-reading.module.css'

export interface Kept {
  check: string
  entry: string
  verdict: Verdict
  cannotDecide: boolean
}

/** What the last reading came to, said once it is kept; empty before. What follows from it may stand behind it. */
export function KeptReading({ kept, children }: { kept: Kept | null; children?: ReactNode }) {
  return (
    <p role="status" className={styles.kept}>
      {kept && (
        <>
          <span className="code">{kept.check}</span> <span className="num">{kept.entry}</span> <VerdictChip verdict={kept.verdict} />
          {children}
        </>
      )}
    </p>
  )
}
