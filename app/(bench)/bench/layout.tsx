import type { Metadata } from 'next'
import type { ReactNode } from 'react'
import { api } from '../../_trpc/server'
import { BehindNote } from '../../_ui/shell/behind-note'
import { BenchBar } from '../../_ui/shell/bench-bar'
import { PlainHttp } from '../../_ui/shell/plain-http'
import styles from '../../_ui/shell/shell.module.css'
import { SkipLink } from '../../_ui/shell/skip-link'
import { WaitingParcels } from './parcels/new/waiting-parcels'

export const metadata: Metadata = { title: { default: 'Bench', template: '%s · Bench' }, robots: { index: false } }

/** The staff's side. Who may see a page is decided by that page's own data, not here. */
export default async function BenchLayout({ children }: { children: ReactNode }) {
  const shell = await (await api()).campaign.shell()
  return (
    <>
      <SkipLink />
      <BenchBar shell={shell} />
      <PlainHttp />
      <BehindNote />
      <main id="main" tabIndex={-1} className={styles.benchMain}>
        <WaitingParcels />
        {children}
      </main>
    </>
  )
}
