import type { CertificateResult } from '#bench/certificates/certificates.contract'
import { homeLines } from '#bench/certificates/sentences.rules'
import styles from './record.module.css'

/** How one check is repeated at home, in its maker's words: what to beware of first, then what is needed, where to touch, what to look for. */
export function HowAtHome({ step }: { step: Pick<CertificateResult, 'home' | 'caution'> }) {
  const lines = homeLines(step)
  if (lines.length === 0) return null
  return (
    <dl className={styles.how}>
      {lines.map(({ name, words }) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{words}</dd>
        </div>
      ))}
    </dl>
  )
}
