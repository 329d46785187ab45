import type { KnownKeys } from '#app/_trust/known-keys.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'
import { shortKey } from '#bench/certificates/key-set.rules'

/** The keys that things are checked with here, each by its fingerprint and since when this browser knows it. */
export function KeyList({ known }: { known: KnownKeys | null }) {
  if (!known) return <p className="small quiet">Looking for the keys of the house…</p>
  return (
    <>
      {known.fault && (
        <Notice tone="doubt" title="About the keys">
          <p>{known.fault}</p>
        </Notice>
      )}
      <details>
        <summary>
          {known.keys.length === 0 ? 'No key is known here' : `Keys of the house known to this browser (${known.keys.length})`}
        </summary>
        <ul>
          {known.keys.map(({ kid, isNewest, isPublished, firstSeenAt }) => (
            <li key={kid}>
              <span className="num">{shortKey(kid)} …</span>,{' '}
              {isPublished ? (isNewest ? 'signs now' : 'an earlier key') : 'no longer published'}, first seen here{' '}
              <When at={firstSeenAt} zone="UTC" brief />
            </li>
          ))}
        </ul>
      </details>
    </>
  )
}
