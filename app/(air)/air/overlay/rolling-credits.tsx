'use client'

import { useEffect, useState } from 'react'
import type { RollingCredits as Rolling } from '../../../../server/air/air.contract'
import type { CreditMarks } from '../../../../server/credits/credits.contract'
import { api } from '../../../_trpc/client'
import { useLive } from '../../../_trpc/use-live'
import styles from './rolling-credits.module.css'

/** Long enough for each name to be read as it goes by. */
const SECONDS_A_NAME = 1.4
const LEAST_SECONDS = 20

/** Everyone who gave and agreed to be named on stream, going by once and again. Who takes that back is gone with the next frame. */
export function RollingCredits({ overlayKey }: { overlayKey: string }) {
  const [shown, setShown] = useState<{ mark: string | undefined; rolling: Rolling } | null>(null)
  const { marks } = useLive<Partial<CreditMarks>>('credits', {})
  const mark = marks?.['stream all']
  useEffect(() => {
    let isCurrent = true
    api.air.overlayCredits
      .query({ key: overlayKey })
      .then((rolling) => isCurrent && setShown({ mark, rolling }))
      // When it cannot be known who agrees, nobody is named.
      .catch(() => isCurrent && setShown(null))
    return () => {
      isCurrent = false
    }
  }, [overlayKey, mark])
  if (!shown || shown.mark !== mark) return null
  const { campaign, names, friends } = shown.rolling
  const lines = [...names, ...(friends > 0 ? [friends === 1 ? 'and a friend' : `and ${friends} friends`] : [])]
  if (lines.length === 0) return null
  return (
    <div className={styles.window}>
      <p className={styles.head}>{campaign} thanks</p>
      <div className={styles.pane}>
        <ul className={styles.roll} style={{ animationDuration: `${Math.max(LEAST_SECONDS, lines.length * SECONDS_A_NAME)}s` }}>
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </div>
    </div>
  )
}
