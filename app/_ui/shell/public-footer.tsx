import Link from 'next/link'
import type { Shell } from '#people/people/shell.service'
import styles from './public-footer.module.css'
import { SignOut } from './sign-out'

/** Below every public page: whom it is for, and the way out for who is signed in. */
export function PublicFooter({ shell: { campaign, person, earlier } }: { shell: Shell }) {
  if (!campaign && !person) return null
  return (
    <footer className={`${styles.footer} no-print`}>
      {campaign && (
        <p>
          {campaign.name}
          {campaign.causeName && `, in aid of ${campaign.causeName}`}
        </p>
      )}
      {earlier.length > 0 && (
        <p>
          Earlier campaigns:{' '}
          {earlier.map(({ name, slug }, index) => (
            <span key={slug}>
              {index > 0 && ' · '}
              <Link href={`/campaigns/${slug}`} prefetch={false}>
                {name}
              </Link>
            </span>
          ))}
        </p>
      )}
      {person && (
        <div className={styles.signedIn}>
          <span>
            Signed in as {person.name}
            {person.paddle !== null && `, paddle ${person.paddle}`}
          </span>
          <Link href="/me/sessions" prefetch={false} className="alone">
            Your sessions
          </Link>
          <SignOut />
        </div>
      )}
    </footer>
  )
}
