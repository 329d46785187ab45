import type { Metadata } from 'next'
import type { ReactNode } from 'react'
import { LooksBack } from '#app/_trpc/looks-back.tsx'
import { api, trouble } from '#app/_trpc/server.ts'
import { AtWorkIn } from '#app/_ui/shell/at-work-in.tsx'
import { BehindNote } from '#app/_ui/shell/behind-note.tsx'
import { BenchBar } from '#app/_ui/shell/bench-bar.tsx'
import { BenchMain } from '#app/_ui/shell/bench-main.tsx'
import { FewFiles } from '#app/_ui/shell/few-files.tsx'
import { PlainHttp } from '#app/_ui/shell/plain-http.tsx'
import { SkipLink } from '#app/_ui/shell/skip-link.tsx'
import { VisitorsAlike } from '#app/_ui/shell/visitors-alike.tsx'
import { WaitingParcels } from './parcels/new/waiting-parcels'
import { WaitingReadings } from './units/_waiting/waiting-readings'

export const metadata: Metadata = { title: { default: 'Bench', template: '%s · Bench' }, robots: { index: false } }

/** The staff's side. Who may see a page is decided by that page's own data, not here. */
export default async function BenchLayout({ children }: { children: ReactNode }) {
  const shell = await (await api()).people.shell()
  return (
    <>
      <SkipLink />
      <BenchBar shell={shell} />
      <PlainHttp />
      {shell.atWorkIn !== null && <AtWorkIn name={shell.atWorkIn} />}
      {shell.areVisitorsAlike && <VisitorsAlike />}
      {shell.fewFiles !== null && <FewFiles limit={shell.fewFiles} />}
      <BehindNote given={await trouble()} />
      <BenchMain>
        <WaitingParcels />
        <WaitingReadings />
        <LooksBack isSo={shell.atWorkIn !== null}>{children}</LooksBack>
      </BenchMain>
    </>
  )
}
