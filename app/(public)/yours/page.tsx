import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { YourPage } from './your-page'

/** Nothing of a donor is in this address or its title: the key stays behind the `#`, where only the browser sees it. */
export const metadata: Metadata = { title: 'Your gifts', robots: { index: false, follow: false }, referrer: 'no-referrer' }

export default async function YoursPage() {
  const { campaign } = await (await api()).people.shell()
  return (
    <div className="page stack wide">
      <YourPage campaign={campaign?.name ?? ''} />
      <noscript>
        <p>This page needs scripts: your key stays in your browser, and without scripts the house cannot be shown it.</p>
      </noscript>
    </div>
  )
}
