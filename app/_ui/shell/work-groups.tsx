'use client'

import { usePathname } from 'next/navigation'
import { useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import styles from './bench-bar.module.css'
import type { NavPlace, Work } from './nav.rules'
import { NavLink } from './nav-link'

type Waiting = Partial<Record<Work, { count: number; words: string }>>

export interface WorkGroupsProps {
  groups: readonly { work: Work; places: readonly NavPlace[] }[]
}

/** The staff's places at a desk, part by part of the work, each with how much waits there; counted anew wherever one goes. */
export function WorkGroups({ groups }: WorkGroupsProps) {
  const path = usePathname()
  const [waiting, setWaiting] = useState<Waiting>({})
  useEffect(() => {
    // On a phone none of it is in sight, and without a line there is nobody to ask.
    if (path === null || !navigator.onLine || !matchMedia('(min-width: 720px)').matches) return
    let isHere = true
    // What cannot be counted now is not counted: the places are there all the same.
    api.closeOut.waiting.query().then(
      (found) => isHere && setWaiting(found),
      () => {},
    )
    return () => {
      isHere = false
    }
  }, [path])
  return (
    <div className={styles.atDesk}>
      {groups.map(({ work, places }) => {
        const waits = waiting[work]
        return (
          <div key={work} className={styles.group}>
            <p className={styles.work}>
              {work}
              {waits && waits.count > 0 && (
                <span className={styles.waits} title={waits.words}>
                  {waits.count}
                  <span className="visually-hidden"> waiting: {waits.words}</span>
                </span>
              )}
            </p>
            <div className={styles.places}>
              {places.map(({ href, label }) => (
                <NavLink key={href} href={href} className={styles.benchPlace}>
                  {label}
                </NavLink>
              ))}
            </div>
          </div>
        )
      })}
    </div>
  )
}
