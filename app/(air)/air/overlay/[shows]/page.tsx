import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { overlaysIn } from '#air/screens/overlay.contract'
import { OverlayScreen } from '../overlay-screen'

export const metadata: Metadata = { title: 'Overlay', robots: { index: false }, referrer: 'no-referrer' }

interface OverlayPageProps {
  params: Promise<{ shows: string }>
  searchParams: Promise<{ zone?: string | string[] }>
}

/**
 * For a video mixer: a transparent ground, changing nothing. The key stands behind the # of the address, which no browser
 * sends anywhere; so this page is the same for everybody and asks for its content once it is there.
 */
export default async function OverlayPage({ params, searchParams }: OverlayPageProps) {
  const shows = overlaysIn(decodeURIComponent((await params).shows))
  if (shows.length === 0) notFound()
  const { zone } = await searchParams
  return <OverlayScreen shows={shows} zone={(Array.isArray(zone) ? zone[0] : zone) ?? null} />
}
