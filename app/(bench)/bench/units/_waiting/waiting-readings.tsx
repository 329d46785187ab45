'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { useEffect, useRef, useState } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import { TextButton } from '#app/_ui/text-button.tsx'
import { changeReadingBox, useAreReadingsKept, useReadingBox, type WaitingReading } from './reading-box'
import { sendWaiting } from './send-reading'

const RETRY_EVERY = 20_000

const change = (key: string, by: Partial<WaitingReading>) =>
  changeReadingBox((box) => ({ ...box, waiting: box.waiting.map((each) => (each.key === key ? { ...each, ...by } : each)) }))
const drop = (key: string) => changeReadingBox((box) => ({ ...box, waiting: box.waiting.filter((each) => each.key !== key) }))

/** Readings and photographs that wait on this device: on every page of the bench they are sent one by one, never twice. */
export function WaitingReadings() {
  const box = useReadingBox()
  const router = useRouter()
  const isKept = useAreReadingsKept()
  const [isSignedOut, setSignedOut] = useState(false)
  const [said, setSaid] = useState<string[]>([])
  const busy = useRef(false)
  const latest = useRef(box)
  latest.current = box
  const open = box?.waiting.filter(({ refused }) => refused === null) ?? []
  const many = open.length

  useEffect(() => {
    if (many === 0) return
    const one = async (waiting: WaitingReading): Promise<boolean> => {
      const { key, reading, shown } = waiting
      const sent = await sendWaiting(waiting, (readingId) => change(key, { reading: null, readingId }))
      setSignedOut(sent.is === 'signed-out')
      if (sent.is === 'unreached' || sent.is === 'signed-out') return false
      if (sent.is === 'refused') {
        change(key, { refused: sent.words })
        return true
      }
      drop(key)
      if (reading) setSaid((before) => [...before, `${placeOf(waiting)}: ${shown} was sent.`])
      router.refresh()
      return true
    }
    const sendAll = async () => {
      if (busy.current) return
      busy.current = true
      for (const waiting of latest.current?.waiting ?? []) if (waiting.refused === null && !(await one(waiting))) break
      busy.current = false
    }
    const alone = () => (navigator.locks ? navigator.locks.request('tagstrip.readings', sendAll) : sendAll())
    void alone()
    window.addEventListener('online', alone)
    const timer = setInterval(alone, RETRY_EVERY)
    return () => {
      window.removeEventListener('online', alone)
      clearInterval(timer)
    }
  }, [many, router])

  const refused = box?.waiting.filter((each) => each.refused !== null) ?? []
  // A photograph that goes as soon as it is taken need not be announced.
  const waits = useLater(many > 0)
  if (!box || (!waits && refused.length === 0 && said.length === 0)) return null
  return (
    <div className="page stack close">
      {((waits && many > 0) || said.length > 0) && (
        <Notice tone={many > 0 ? 'doubt' : 'ok'} live="status" title={many > 0 ? waitingTitle(open) : undefined}>
          {many > 0 && (
            <p>
              {isSignedOut ? 'Sign in and it will be sent.' : 'Sent automatically, once, when the connection is back.'} A reading counts
              from when it reaches the house.{' '}
              {isKept ? 'You can close the page.' : 'This browser cannot save anything: leave the page open until then.'}
            </p>
          )}
          {said.map((words) => (
            <p key={words}>{words}</p>
          ))}
        </Notice>
      )}
      {refused.map((each) => (
        <Notice key={each.key} tone="bad" live="status" title={`${each.shown} of ${placeOf(each)} was not taken`}>
          <p>{each.refused} It is still on this device.</p>
          <div className="row">
            <Link href={`/bench/units/${encodeURIComponent(each.tag)}`}>Go to {each.tag}</Link>
            <TextButton press={() => change(each.key, { refused: null })}>Send it again</TextButton>
            <TextButton press={() => drop(each.key)}>Discard it</TextButton>
          </div>
        </Notice>
      ))}
    </div>
  )
}

const placeOf = ({ tag, check }: WaitingReading) => (check === null ? tag : `${tag}, ${check}`)

function waitingTitle(open: readonly WaitingReading[]): string {
  const [first] = open
  return open.length === 1 && first
    ? `${placeOf(first)}: ${first.shown} is waiting on this device`
    : `${open.length} readings or photographs are waiting on this device`
}

/** True once it has been so for a while. */
function useLater(is: boolean): boolean {
  const [isLater, setLater] = useState(false)
  useEffect(() => {
    if (!is) return setLater(false)
    const timer = setTimeout(() => setLater(true), 1500)
    return () => clearTimeout(timer)
  }, [is])
  return isLater
}
