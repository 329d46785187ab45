'use client'

import { useEffect, useId, useState } from 'react'
import { useLiveness } from '#app/_trpc/use-live.ts'
import { delayOf, nextMark, sayPicture, sayWorth, showWall, summed, withTap } from '#app/_ui/picture-delay.rules.ts'
import { useHouseNow } from '#app/_ui/use-house-now.ts'
import { keepPictureDelay, usePictureDelay } from '#app/_ui/use-picture-delay.ts'
import type { Instant } from '#kernel/instant'
import styles from './lot.module.css'

/** Where the first tap is awaited: most streams run this far behind. Common practice, no source. */
const FIRST_GUESS_MS = 20_000

/**
 * For whoever watches the stream beside this page: a picture comes late, and the clock in it says by how much. It stays on
 * the device and moves no closing.
 */
export function PictureDelayPart({ zone, serverNow }: { zone: string; serverNow: Instant }) {
  const { offset } = useLiveness()
  const now = useHouseNow(serverNow, null, offset)
  const kept = usePictureDelay(now)
  const [isOpen, setOpen] = useState(false)
  return (
    <div className="stack close">
      {kept && (
        <p className={styles.late}>
          <b>{sayPicture(kept)}</b> <span className="small quiet">{sayWorth(kept, now)}</span>
        </p>
      )}
      <details open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>{kept ? 'Measure how late your picture is again' : 'Watching the stream? Measure how late your picture is'}</summary>
        {isOpen && <Measure zone={zone} offset={offset} known={kept?.delayMs ?? null} />}
      </details>
    </div>
  )
}

interface MeasureProps {
  zone: string
  offset: number | undefined
  known: number | null
}

function Measure({ zone, offset, known }: MeasureProps) {
  const id = useId()
  const [taps, setTaps] = useState<number[]>([])
  const [shown, setShown] = useState('')
  const [words, setWords] = useState('')
  // The time to wait for is made here and not on the server, where it would be old by the time it is read.
  // biome-ignore lint/correctness/useExhaustiveDependencies: suggested once, when the clock is known; typing must not be undone
  useEffect(() => {
    if (offset !== undefined && shown === '') setShown(showWall(nextMark(Date.now() + offset, known ?? FIRST_GUESS_MS), zone))
  }, [offset])
  const tap = () => {
    if (offset === undefined) return
    const tapped = Date.now() + offset
    const measured = delayOf(shown, tapped, zone)
    if ('words' in measured) {
      setWords(measured.words)
      return
    }
    const all = withTap(taps, measured.delayMs)
    const delay = summed(all, tapped)
    setTaps(all)
    keepPictureDelay(delay)
    setShown(showWall(nextMark(tapped, delay?.delayMs ?? measured.delayMs), zone))
    setWords(
      all.length < taps.length + 1 && taps.length > 0
        ? 'That is far from your earlier taps, so those were discarded. Tap once more.'
        : all.length < 3
          ? 'Saved. Another tap makes it more certain.'
          : 'Saved: the middle of your taps counts.',
    )
  }
  const forget = () => {
    setTaps([])
    keepPictureDelay(null)
    setWords('Forgotten.')
  }
  return (
    <div className="stack close">
      <p className="small">
        Look at the house’s clock in the picture. Write a time that it is about to show, and tap when it does; three taps are best. Your own
        reaction, a quarter of a second or so, counts as delay, which errs on the safe side.
      </p>
      <label htmlFor={id}>Time in the picture</label>
      <div className="row">
        <input
          id={id}
          className={styles.shown}
          value={shown}
          inputMode="numeric"
          autoComplete="off"
          aria-describedby={`${id}-words`}
          onChange={(event) => setShown(event.target.value)}
        />
        <button type="button" className="button" onClick={tap}>
          It shows it now
        </button>
        {known !== null && (
          <button type="button" className="button-line" onClick={forget}>
            Forget it
          </button>
        )}
      </div>
      <p id={`${id}-words`} role="status" className="small">
        {offset === undefined ? 'Reading the house’s clock…' : words}
      </p>
      <p className="small quiet">It stays on this device. What closes when is decided by the house’s clock alone.</p>
    </div>
  )
}
