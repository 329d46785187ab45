'use client'

import { usePathname } from 'next/navigation'
import { useEffect, useRef } from 'react'
import styles from './bench-bar.module.css'
import { isHere, type NavPlace } from './nav.rules'
import { NavLink } from './nav-link'

/** What does not fit at the thumb. At a desk it lies open and its summary is gone. */
export function MorePlaces({ places }: { places: readonly NavPlace[] }) {
  const path = usePathname()
  const details = useRef<HTMLDetailsElement>(null)
  const here = places.some(({ href }) => isHere(path, href))
  // Going somewhere closes it: the path is what says that one went.
  useEffect(() => {
    if (path && details.current) details.current.open = false
  }, [path])
  return (
    <details ref={details} className={styles.more}>
      <summary className={styles.benchPlace} data-here={here ? '' : undefined}>
        More
        <svg viewBox="0 0 12 8" width="12" height="8" aria-hidden="true" className={styles.arrow}>
          <path d="M1 7L6 2L11 7" fill="none" stroke="currentColor" strokeWidth="2" />
        </svg>
      </summary>
      <div className={styles.drawer}>
        {places.map(({ href, label }) => (
          <NavLink key={href} href={href} className={styles.drawerPlace}>
            {label}
          </NavLink>
        ))}
      </div>
    </details>
  )
}
