import type { Metadata } from 'next'
import Link from 'next/link'
import { connection } from 'next/server'
import { LoneSheet } from './_ui/shell/lone-sheet'
import { PUBLIC_PLACES } from './_ui/shell/nav.rules'
import { Tag } from './_ui/tag'

export const metadata: Metadata = { title: 'Nothing hangs here' }

/** Says what may have gone wrong with the address, and where the things are that people look for. */
export default async function NotFound() {
  // Made at each asking and not with the build: its scripts carry the word of their own answer's policy.
  await connection()
  return (
    <LoneSheet>
      <Tag code="404">
        <h1>Nothing hangs here</h1>
      </Tag>
      <p>
        The address may have been cut short on its way, or mistyped. A lot is found at <span className="num">/lots/7</span>, a machine at{' '}
        <span className="num">/units/TERN-03</span>, a certificate at <span className="num">/certificates/</span> and the number printed on
        it.
      </p>
      <nav aria-label="Where to go">
        <ul>
          {PUBLIC_PLACES.map(({ href, label }) => (
            <li key={href}>
              <Link href={href} prefetch={false}>
                {label}
              </Link>
            </li>
          ))}
        </ul>
      </nav>
    </LoneSheet>
  )
}
