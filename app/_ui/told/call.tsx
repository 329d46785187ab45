'use client'

import { useEffect, useRef } from 'react'
import type { Instant } from '#kernel/instant'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import { calls, titleMark } from './call.rules'
import { sound, useSound } from './sound'

/** Calls whoever looks elsewhere: in the title of the tab, and, where they switched it on, by a sound and a vibration. */
export function Call({ frame, alias, now }: { frame: LotFrame; alias: string | null; now: Instant }) {
  const isOn = useSound()
  const was = useRef({ frame, now })
  useEffect(() => {
    const is = { frame, now }
    if (isOn && calls(was.current, is, alias)) sound()
    was.current = is
  }, [frame, now, alias, isOn])
  const mark = titleMark(frame, alias, now)
  useEffect(() => {
    if (mark === '') return
    const title = document.title
    document.title = `${mark} · ${title}`
    return () => {
      document.title = title
    }
  }, [mark])
  return null
}
