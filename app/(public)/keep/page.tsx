import type { Metadata } from 'next'
import { KeepQuestion } from './keep-question'

/** Nothing of anybody is in this address or its title: the key stays behind the `#`, where only the browser sees it. */
export const metadata: Metadata = { title: 'May we keep your address?', robots: { index: false, follow: false }, referrer: 'no-referrer' }

export default function KeepPage() {
  return (
    <div className="page narrow stack">
      <KeepQuestion />
      <noscript>
        <p>This page needs scripts: your key stays in your browser, and without scripts the house cannot be shown it.</p>
      </noscript>
    </div>
  )
}
