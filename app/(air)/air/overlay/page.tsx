import type { Metadata } from 'next'
import { overlayShows } from '../../../../server/air/air.contract'
import { api, serverNow } from '../../../_trpc/server'
import { OverlayScreen } from './overlay-screen'

export const metadata: Metadata = { title: 'Overlay', robots: { index: false }, referrer: 'no-referrer' }

/** For a video mixer: a transparent ground, opened by the key in its address, changing nothing. */
export default async function OverlayPage({
  searchParams,
}: {
  searchParams: Promise<{ key?: string | string[]; show?: string | string[] }>
}) {
  const { key, show } = await searchParams
  const opened = await (await api()).air.overlay({ key: one(key) ?? '' })
  if (!opened.isOpen) return <h1 className="air-ground">This overlay opens with its key. The host’s screen makes a new one.</h1>
  if (!opened.frames) return null
  return <OverlayScreen initial={opened.frames} serverNow={await serverNow()} shows={overlayShows(one(show))} overlayKey={one(key) ?? ''} />
}

const one = (value: string | string[] | undefined): string | undefined => (Array.isArray(value) ? value[0] : value)
