import { When } from '#app/_ui/when.tsx'
import type { DonorPage } from '#gifts/outcome/donor-page.service'
import styles from './donor.module.css'

const CHANGED = { state: '', quantity: 'count ', restriction: '', approval: '', donor: 'from ' } as const

/** What was changed in one gift, with the reasons; nothing while nothing was. */
export function GiftHistory({ changes, zone }: { changes: DonorPage['changes']; zone: string }) {
  if (changes.length === 0) return null
  return (
    <details>
      <summary className="small">What was changed</summary>
      <ul className={`${styles.history} small`}>
        {changes.map((change) => (
          <li key={change.id}>
            {change.what === 'approval' ? 'accepted' : `${CHANGED[change.what]}${change.was || 'nothing'} → ${change.now}`}
            {change.reason !== '' && `: ${change.reason}`}, <When at={change.at} zone={zone} brief />
          </li>
        ))}
      </ul>
    </details>
  )
}
