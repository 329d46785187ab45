'use client'

import { useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useProgress } from '#app/_trpc/use-progress.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'
import type { VitalsView } from '#people/vitals/vitals.contract'
import styles from './house.module.css'
import { sayHouse } from './standing.rules'
import { VitalSheet } from './vital-sheet'

/** The house looks at itself as often. */
const LOOK_EVERY_MS = 5_000
const OLD_AFTER_MS = 20_000

/** Everything that is watched, asked for again while the page is open. */
export function HouseDesk({ found, zone }: { found: VitalsView; zone: string }) {
  const { seen } = useProgress(
    found,
    () => api.vitals.read.query(),
    () => true,
    LOOK_EVERY_MS,
  )
  const isOld = useIsOld(seen)
  const { tone, title } = sayHouse(seen)
  return (
    <>
      {isOld ? (
        <Notice tone="bad" live="alert" title="The house has not answered for a while.">
          <p>
            This is how it was at <When at={seen.at} zone={zone} show="time" brief />. Check whether its machine is on and its program is
            running.
          </p>
        </Notice>
      ) : (
        <Notice tone={tone} live="status" title={title} />
      )}
      <p className="quiet">
        It is checked every five seconds. When something has been bad for a minute, each maker gets one letter, and another when it is well
        again.
      </p>
      <ul className={styles.list}>
        {seen.vitals.map((vital) => (
          <li key={vital.key}>
            <VitalSheet vital={vital} now={seen.at} zone={zone} />
          </li>
        ))}
      </ul>
    </>
  )
}

/** True when nothing new has come for some time: the house is away, or this device is. */
function useIsOld(seen: VitalsView): boolean {
  const [isOld, setOld] = useState(false)
  // biome-ignore lint/correctness/useExhaustiveDependencies: each new view begins the wait anew
  useEffect(() => {
    setOld(false)
    const timer = setTimeout(() => setOld(true), OLD_AFTER_MS)
    return () => clearTimeout(timer)
  }, [seen])
  return isOld
}
