import Link from 'next/link'
import styles from './crumbs.module.css'

export interface Crumb {
  label: string
  href: string
}

/** The way back up. The page itself is not among them: its heading says where one stands. */
export function Crumbs({ trail }: { trail: Crumb[] }) {
  return (
    <nav aria-label="The way back">
      <ol className={styles.crumbs}>
        {trail.map(({ label, href }) => (
          <li key={href}>
            <Link prefetch={false} href={href}>
              {label}
            </Link>
          </li>
        ))}
      </ol>
    </nav>
  )
}
