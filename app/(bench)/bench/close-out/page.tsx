import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import type { Tone } from '#app/_ui/tone.ts'
import { ToneMark } from '#app/_ui/tone-mark.tsx'
import type { CheckItem } from '#end/close-out/checklist.contract'
import styles from './close-out.module.css'
import { insteadOf } from './for-whom'
import { closeOutParts } from './parts.rules'

export const metadata: Metadata = { title: 'Close out' }

const STATE: Record<CheckItem['state'], { tone: Tone; words: string }> = {
  done: { tone: 'ok', words: 'Done' },
  open: { tone: 'copper', words: 'To do' },
  'not-yet': { tone: 'plain', words: 'Not yet' },
}

/** What is left to do before the campaign is closed out. */
export default async function CloseOutPage() {
  const instead = await insteadOf('Close out', ['maker', 'treasurer'])
  if (instead) return instead
  const caller = await api()
  const [items, { person }] = await Promise.all([caller.closeOut.checklist(), caller.people.shell()])
  const mayOpen = new Set(closeOutParts(person?.role ?? 'bidder').map(({ href }) => href))
  const all = items ?? []
  const done = all.filter(({ state }) => state === 'done').length
  return (
    <div className="page stack">
      <h1>Close out</h1>
      <p>
        <b>
          {done} of {all.length} done.
        </b>{' '}
        You tick nothing here: each point is worked out from the records.
      </p>
      <ol className={styles.checks}>
        {all.map(({ key, title, state, words, href, link }) => (
          <li key={key} className={styles[state]}>
            <span className={styles.mark}>
              <ToneMark tone={STATE[state].tone} size={18} />
            </span>
            <div className={styles.words}>
              <h2>{title}</h2>
              <p>
                <b>{STATE[state].words}.</b> {words}
              </p>
            </div>
            {(!href.startsWith('/bench/close-out/') || mayOpen.has(href)) && (
              <Link prefetch={false} href={href} aria-label={`${link}: ${title}`}>
                {link}
              </Link>
            )}
          </li>
        ))}
      </ol>
    </div>
  )
}
