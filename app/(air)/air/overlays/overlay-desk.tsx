'use client'

import Link from 'next/link'
import { useState } from 'react'
import { type OverlayDesk as Desk, OVERLAY_NAMES, OVERLAYS, type OverlayFrames, type OverlayName } from '#air/screens/overlay.contract'
import { classes } from '#app/_ui/classes.ts'
import { isZone } from '#kernel/civil'
import { useOverlayAir } from '../overlay/use-overlay'
import { CopyLine } from './copy-line'
import { OverlayKey } from './overlay-key'
import styles from './overlays.module.css'
import { GROUNDS, type Ground, Preview } from './preview'

interface OverlayDeskProps {
  desk: Desk
  frames: OverlayFrames
  publicUrl: string
}

/** One page, one stream: every preview is drawn from what this page hears, and is the overlay itself in small. */
export function OverlayDesk({ desk, frames, publicUrl }: OverlayDeskProps) {
  const air = useOverlayAir(frames, '')
  const [ground, setGround] = useState<Ground>('photograph')
  const [isExample, setExample] = useState(false)
  const [zone, setZone] = useState(desk.zones[0] ?? '')
  const addressOf = (shows: string) => {
    const query = shows.includes('next') && zone !== '' ? `?zone=${encodeURIComponent(zone)}` : ''
    return `${publicUrl}/air/overlay/${shows}${query}#${desk.key ?? ''}`
  }
  return (
    <div className={classes('air-ground stack wide', styles.desk)}>
      <div className="row apart">
        <h1>Overlays</h1>
        <Link href="/air/host">Host’s screen</Link>
      </div>
      <p>
        Put an address into the video mixer as a browser source of 1920 × 1080. The background is transparent and every piece keeps its
        place, so you can layer several: only the card replaces the meter, next lots and cause. Names joined with commas share one source.
      </p>
      <OverlayKey desk={desk} zone={frames.programme.zone} />
      <div className={styles.choices}>
        <label className="stack close">
          Background under the previews
          <select value={ground} onChange={(event) => setGround(event.target.value as Ground)}>
            {GROUNDS.filter((one) => one !== 'photograph' || desk.photograph).map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </label>
        <label className="stack close">
          Second zone of the next lots
          <input
            value={zone}
            list="overlay-zones"
            spellCheck={false}
            aria-describedby="zone-fault"
            onChange={(event) => setZone(event.target.value.trim())}
          />
          <datalist id="overlay-zones">
            {desk.zones.map((one) => (
              <option key={one} value={one} />
            ))}
          </datalist>
          <span id="zone-fault" role="status" className="small">
            {zone !== '' && !isZone(zone) && 'That is not a time zone, so only the stream’s is shown. Write one such as Asia/Tokyo.'}
          </span>
        </label>
        <label className={styles.check}>
          <input type="checkbox" checked={isExample} onChange={(event) => setExample(event.target.checked)} />
          Show result and hold as they would look
        </label>
      </div>
      <ul className={classes('plain-list', styles.previews)}>
        {OVERLAY_NAMES.map((name) => (
          <li key={name} className="stack close">
            <h2>{OVERLAYS[name]}</h2>
            <Preview air={air} shows={[name]} zone={zone} isExample={isExample} ground={ground} photograph={desk.photograph} />
            <CopyLine label={`Address of “${name}”`} text={addressOf(name)} isReady={desk.key !== null} />
          </li>
        ))}
        <li className="stack close">
          <h2>Several in one source</h2>
          <Preview air={air} shows={TOGETHER} zone={zone} isExample={false} ground={ground} photograph={desk.photograph} />
          <CopyLine label="Address of these together" text={addressOf(TOGETHER.join(','))} isReady={desk.key !== null} />
        </li>
      </ul>
    </div>
  )
}

const TOGETHER: OverlayName[] = ['price', 'meter', 'names', 'clock', 'result', 'hold']
