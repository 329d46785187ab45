'use client'

import Link from 'next/link'
import { usePathname } from 'next/navigation'
import styles from './parts-nav.module.css'

/** Links to the pages that belong together, at the head of each of them; the one that is open is marked. */
export function PartsNav({ label, parts }: { label: string; parts: readonly { href: string; label: string }[] }) {
  const path = usePathname()
  if (parts.length < 2) return null
  return (
    <nav aria-label={label} className={styles.parts}>
      <ul>
        {parts.map(({ href, label: words }) => (
          <li key={href}>
            <Link prefetch={false} href={href} aria-current={path === href ? 'page' : undefined}>
              {words}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  )
}
