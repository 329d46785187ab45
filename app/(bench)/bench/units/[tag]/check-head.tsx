import type { ReactNode, RefObject } from 'react'
import { hertzWords } from '#bench/units/accuracy.rules'
import type { CheckView } from '#bench/units/view.contract'
import styles from './check-head.module.css'

export interface CheckHeadProps {
  check: CheckView
  /** Names the sheet that it heads. */
  id: string
  heading: RefObject<HTMLHeadingElement | null>
  /** Whether it is said that the work stops here until somebody lets it go on. */
  saysHold?: boolean
  children: ReactNode
}

/** The check at hand, large: where it stands and what it takes, what to do, and the same in plain words. */
export function CheckHead({ check, id, heading, saysHold = false, children }: CheckHeadProps) {
  return (
    <>
      <p className="small">
        <b className="code">{check.key}</b> · {check.stage}
        {saysHold && check.isHold && <b className={styles.hold}> · hold point</b>}
        {check.frequency !== null && ` · at ${hertzWords(check.frequency)}`}
        {check.isPowered ? ' · powered' : ' · power off'} · {check.minutes} min
      </p>
      <h2 id={id} ref={heading} tabIndex={-1} className={styles.title}>
        {children}
      </h2>
      {check.plain !== '' && <p className="quiet">{check.plain}</p>}
    </>
  )
}
