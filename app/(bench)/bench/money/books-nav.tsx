'use client'

import Link from 'next/link'
import { usePathname } from 'next/navigation'
import styles from './money.module.css'

/** The parts of the books; the one that is open is marked. */
export function BooksNav({ parts }: { parts: readonly { href: string; label: string }[] }) {
  const path = usePathname()
  if (parts.length < 2) return null
  return (
    <nav aria-label="Parts of the books" className={styles.parts}>
      <ul>
        {parts.map(({ href, label }) => (
          <li key={href}>
            <Link prefetch={false} href={href} aria-current={path === href ? 'page' : undefined}>
              {label}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  )
}
