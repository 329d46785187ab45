import type { Shell } from '#people/people/shell.service'
import { Tag } from '../tag'
import styles from './bench-bar.module.css'
import header from './header.module.css'
import { MorePlaces } from './more-places'
import { atTheThumb, benchGroups, benchPlaces } from './nav.rules'
import { NavLink } from './nav-link'
import { SignOut } from './sign-out'
import { WorkGroups } from './work-groups'

/** The staff's navigation: along the top at a desk, at the thumb on a phone. */
export function BenchBar({ shell }: { shell: Shell }) {
  const { person } = shell
  const role = person && person.role !== 'bidder' ? person.role : null
  const { first, more } = atTheThumb(role ? benchPlaces(role) : [])
  const groups = role ? benchGroups(role) : []
  return (
    <>
      <header className={`${header.header} no-print`}>
        <div className={header.bar}>
          <div className={header.name}>
            <Tag size="small" code="Bench" href="/bench" />
          </div>
          {person && (
            <p className={header.who}>
              {person.name}, {person.role}
            </p>
          )}
          <div className={header.person}>
            <NavLink href="/" className={header.place}>
              Public side
            </NavLink>
            {person && (
              <NavLink href="/me/sessions" className={header.place}>
                Sessions
              </NavLink>
            )}
            {person && <SignOut />}
          </div>
        </div>
      </header>
      {first.length > 0 && (
        <nav aria-label="Bench" className={`${styles.bench} no-print`}>
          <div className={styles.atThumb}>
            {first.map(({ href, label }) => (
              <NavLink key={href} href={href} className={styles.benchPlace}>
                {label}
              </NavLink>
            ))}
            {more.length > 0 && <MorePlaces places={more} />}
          </div>
          <WorkGroups groups={groups} />
        </nav>
      )}
    </>
  )
}
