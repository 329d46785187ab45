import Link from 'next/link'
import type { Shell } from '#people/people/shell.service'
import { Tag } from '../tag'
import styles from './header.module.css'
import { PUBLIC_PLACES } from './nav.rules'
import { NavLink } from './nav-link'

/** Above every public page: whose day it is, where to go, and who is here. */
export function PublicHeader({ shell }: { shell: Shell }) {
  const { campaign, person, isDemo } = shell
  return (
    <header className={`${styles.header} no-print`}>
      <div className={styles.bar}>
        <div className={styles.name}>
          <Tag size="small" code={campaign?.name ?? 'Tagstrip'} href="/" />
        </div>
        <nav aria-label="Pages" className={styles.places}>
          {PUBLIC_PLACES.map(({ href, label }) => (
            <NavLink key={href} href={href} className={styles.place}>
              {label}
            </NavLink>
          ))}
          {campaign && campaign.streamUrl !== '' && (
            <a href={campaign.streamUrl} className={styles.place} rel="noreferrer" target="_blank">
              Stream<span className="visually-hidden"> (another site, in a new tab)</span>
            </a>
          )}
        </nav>
        <div className={styles.person}>
          {person?.role === 'bidder' && (
            <NavLink href="/me" className={styles.place}>
              My bids
            </NavLink>
          )}
          {person && person.role !== 'bidder' && (
            <NavLink href="/bench" className={styles.place}>
              Bench
            </NavLink>
          )}
          {!person && (
            <NavLink href="/sign-in" className={styles.place}>
              Sign in
            </NavLink>
          )}
        </div>
      </div>
      {isDemo && (
        <p className={styles.demo}>
          A demo: everything here is invented, and no money moves.{' '}
          <Link href="/demo" prefetch={false}>
            Step into a role
          </Link>
        </p>
      )}
    </header>
  )
}
