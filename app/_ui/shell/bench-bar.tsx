import type { Shell } from '#people/people/shell.service'
import { Tag } from '../tag'
import { MorePlaces } from './more-places'
import { atTheThumb, benchPlaces } from './nav.rules'
import { NavLink } from './nav-link'
import styles from './shell.module.css'
import { SignOut } from './sign-out'

/** The staff's navigation: along the top at a desk, at the thumb on a phone. */
export function BenchBar({ shell }: { shell: Shell }) {
  const { person } = shell
  const { first, more } = atTheThumb(person && person.role !== 'bidder' ? benchPlaces(person.role) : [])
  return (
    <>
      <header className={`${styles.header} no-print`}>
        <div className={styles.bar}>
          <div className={styles.name}>
            <Tag size="small" code="Bench" href="/bench" />
          </div>
          {person && (
            <p className={styles.who}>
              {person.name}, {person.role}
            </p>
          )}
          <div className={styles.person}>
            <NavLink href="/" className={styles.place}>
              Public side
            </NavLink>
            {person && <SignOut />}
          </div>
        </div>
      </header>
      {first.length > 0 && (
        <nav aria-label="Bench" className={`${styles.bench} no-print`}>
          {first.map(({ href, label }) => (
            <NavLink key={href} href={href} className={styles.benchPlace}>
              {label}
            </NavLink>
          ))}
          {more.length > 0 && <MorePlaces places={more} />}
        </nav>
      )}
    </>
  )
}
