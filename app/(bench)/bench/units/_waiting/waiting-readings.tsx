'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { useEffect, useState } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import { useSendWhenReached } from '#app/_ui/send-when-reached.ts'
import { TextButton } from '#app/_ui/text-button.tsx'
import { WaitingNotice } from '#app/_ui/waiting-notice.tsx'
import { changeReadingBox, useAreReadingsKept, useReadingBox, type WaitingReading } from './reading-box'
import { sendWaiting } from './send-reading'

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
  const waiting = box?.waiting ?? []
  const open = waiting.filter(({ refused }) => refused === null)

  useSendWhenReached('readings', waiting, async (one) => {
    const sent = await sendWaiting(one, (readingId) => change(one.key, { reading: null, readingId }))
    setSignedOut(sent.is === 'signed-out')
    if (sent.is === 'unreached' || sent.is === 'signed-out') return false
    if (sent.is === 'refused') {
      change(one.key, { refused: sent.words })
      return true
    }
    drop(one.key)
    if (one.reading) setSaid((before) => [...before, `${placeOf(one)}: ${one.shown} was sent.`])
    router.refresh()
    return true
  })

  const refused = waiting.filter((each) => each.refused !== null)
  // A photograph that goes as soon as it is taken need not be announced.
  const waits = useLater(open.length > 0)
  if (!box || (!waits && refused.length === 0 && said.length === 0)) return null
  return (
    <div className="page stack close">
      <WaitingNotice
        title={waits && open.length > 0 ? waitingTitle(open) : null}
        said={said}
        isSignedOut={isSignedOut}
        isKept={isKept}
        note="A reading counts from when it reaches the house. "
      />
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
