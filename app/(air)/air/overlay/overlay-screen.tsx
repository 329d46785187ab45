'use client'

import type { OverlayFrames, OverlayName } from '#air/screens/overlay.contract'
import styles from './overlay-screen.module.css'
import { Picture } from './picture'
import { useOpened, useOverlayAir } from './use-overlay'

interface OverlayScreenProps {
  shows: readonly OverlayName[]
  /** The second zone of the next lots, as the address names it. */
  zone: string | null
}

/** One overlay over the whole picture. It reads and changes nothing. */
export function OverlayScreen({ shows, zone }: OverlayScreenProps) {
  const opened = useOpened()
  if (opened.state === 'shut')
    return (
      <div className={styles.screen}>
        <h1 className={styles.shut}>This overlay opens with its key. Copy its address again from the overlays page.</h1>
      </div>
    )
  if (opened.state !== 'open' || !opened.frames) return null
  return <Open frames={opened.frames} overlayKey={opened.key} shows={shows} zone={zone} />
}

function Open({ frames, overlayKey, shows, zone }: OverlayScreenProps & { frames: OverlayFrames; overlayKey: string }) {
  const air = useOverlayAir(frames, overlayKey)
  return (
    <div className={styles.screen}>
      <h1 className="visually-hidden">Overlay</h1>
      <Picture air={air} shows={shows} zone={zone} />
    </div>
  )
}
