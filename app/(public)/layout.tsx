import type { Metadata } from 'next'
import type { ReactNode } from 'react'
import { api, publicUrl, trouble } from '../_trpc/server'
import { BehindNote } from '../_ui/shell/behind-note'
import { PlainHttp } from '../_ui/shell/plain-http'
import { PublicFooter } from '../_ui/shell/public-footer'
import { PublicHeader } from '../_ui/shell/public-header'
import { SkipLink } from '../_ui/shell/skip-link'

/** Titles carry the campaign's name, and shared links the address that the world knows. */
export async function generateMetadata(): Promise<Metadata> {
  const { campaign } = await (await api()).people.shell()
  if (!campaign) return {}
  return {
    metadataBase: new URL(publicUrl()),
    title: { default: campaign.name, template: `%s · ${campaign.name}` },
    description: `Machines made by hand from gifts, each with the record of its tests, sold in aid of ${campaign.causeName}.`,
    openGraph: { siteName: campaign.name, type: 'website' },
  }
}

export default async function PublicLayout({ children }: { children: ReactNode }) {
  const shell = await (await api()).people.shell()
  return (
    <>
      <SkipLink />
      <PublicHeader shell={shell} />
      <PlainHttp />
      <BehindNote given={await trouble()} />
      <main id="main" tabIndex={-1}>
        {children}
      </main>
      <PublicFooter shell={shell} />
    </>
  )
}
