'use client'

import { useEffect, useRef, useState } from 'react'
import type { Instant } from '#kernel/instant'
import type { ProgrammeItem } from '#sale/programme/programme.contract'
import styles from './change-day.module.css'
import { ChangeForm } from './change-form'
import { EndLaterForm } from './end-later-form'
import { HoldForm, ResumeForm } from './hold-form'
import { NoShowForm } from './no-show-form'
import type { Grace, Pending } from './use-grace'
import { WAYS, type Way, waysNow } from './ways'

export interface ChangeDayProps {
  /** What has not begun, in order. */
  coming: readonly ProgrammeItem[]
  zone: string
  /** The end of the stream. */
  endsAt: Instant
  isHeld: boolean
  grace: Grace
  /** Across a room: each key with one short word. */
  isBrief: boolean
}

const UNDO_KEY = 'u'

/** Changes on the day, each a key: what it would move is shown, then it is done, unless it is taken back at once. */
export function ChangeDay({ coming, zone, endsAt, isHeld, grace, isBrief }: ChangeDayProps) {
  const dialog = useRef<HTMLDialogElement>(null)
  const [way, setWay] = useState<Way | null>(null)
  const { left, isDone, words, begin, offerUndo, undo, trouble, setTrouble } = grace
  const ways = waysNow(isHeld)
  const close = () => {
    dialog.current?.close()
    setWay(null)
  }
  const open = (chosen: Way) => {
    setTrouble('')
    setWay(chosen)
    if (!dialog.current?.open) dialog.current?.showModal()
  }
  const hand = (pending: Pending) => {
    close()
    begin(pending)
  }
  // A key and Enter must do: what does it has the focus once it is there; where something is chosen first, that has.
  useEffect(() => {
    const first = way === 'hold' || way === 'resume' || way === 'no-show' ? 'button[type=submit]' : 'input, select, button[type=submit]'
    if (way !== null) dialog.current?.querySelector<HTMLElement>(first)?.focus()
  }, [way])
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      const isTyping = event.target instanceof HTMLElement && /^(INPUT|SELECT|TEXTAREA)$/.test(event.target.tagName)
      if (isTyping || event.ctrlKey || event.metaKey || event.altKey || document.querySelector('dialog[open]')) return
      const key = event.key.toLowerCase()
      const pressed = ways.find((one) => one.key === key)
      if (key === UNDO_KEY && left !== null) undo()
      else if (pressed && (left === null || isDone)) open(pressed.way)
      else return
      event.preventDefault()
    }
    addEventListener('keydown', press)
    return () => removeEventListener('keydown', press)
  })
  return (
    <>
      {left !== null && (
        <p className={styles.pending} role="status">
          <b>{words}</b>
          {isDone ? '.' : ` in ${left} s.`}{' '}
          <button type="button" className="button" aria-keyshortcuts={UNDO_KEY} onClick={undo}>
            Take it back <kbd className={styles.key}>U</kbd>
          </button>
        </p>
      )}
      {/* What was done already leaves the keys where they are; a small screen has room for one of both. */}
      {(left === null || (isDone && !isBrief)) && (
        <div className={styles.ways}>
          {ways.map(({ way: one, key, label, brief }) => (
            <button key={one} type="button" className="button-line" aria-keyshortcuts={key} onClick={() => open(one)}>
              {isBrief ? brief : label} <kbd className={styles.key}>{key.toUpperCase()}</kbd>
            </button>
          ))}
        </div>
      )}
      {trouble !== '' && <p role="alert">{trouble}</p>}
      <dialog ref={dialog} className={styles.dialog} aria-labelledby="change-day" onClose={() => setWay(null)}>
        <h2 id="change-day">{WAYS.find((one) => one.way === way)?.title}</h2>
        {way === 'hold' && <HoldForm close={close} offerUndo={offerUndo} />}
        {way === 'resume' && <ResumeForm zone={zone} begin={hand} close={close} />}
        {way === 'no-show' && <NoShowForm coming={coming} zone={zone} begin={hand} close={close} />}
        {way === 'end-later' && <EndLaterForm endsAt={endsAt} zone={zone} begin={hand} close={close} />}
        {way !== null && way !== 'hold' && way !== 'resume' && way !== 'end-later' && way !== 'no-show' && (
          <ChangeForm key={way} way={way} coming={coming} zone={zone} begin={hand} close={close} />
        )}
      </dialog>
    </>
  )
}
