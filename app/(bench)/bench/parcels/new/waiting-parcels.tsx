'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import { useSendWhenReached } from '#app/_ui/send-when-reached.ts'
import { WaitingNotice } from '#app/_ui/waiting-notice.tsx'
import { isTouched } from './draft.rules'
import styles from './parcel.module.css'
import { changeBox, useIsKept, usePhoneBox, type WaitingParcel } from './phone-box'
import { sendParcel } from './send-parcel'

/**
 * Parcels that wait on this phone: on every page of the bench they are sent one by one when the house can be reached,
 * never twice, and it is said so. What the house refuses is put right here and holds up no other.
 */
export function WaitingParcels() {
  const box = usePhoneBox()
  const router = useRouter()
  const isKept = useIsKept()
  const [said, setSaid] = useState<string[]>([])
  const [isSignedOut, setSignedOut] = useState(false)
  const waiting = box?.waiting ?? []
  const open = waiting.filter(({ refused }) => refused === null).length

  useSendWhenReached('parcels', waiting, async (one) => {
    const key = one.draft.key
    const sent = await sendParcel(one, box?.photos[key])
    setSignedOut(sent.is === 'signed-out')
    if (sent.is === 'unreached' || sent.is === 'signed-out') return false
    if (sent.is === 'refused') {
      const { words, fields } = sent.refusal
      changeBox((now) => ({
        ...now,
        waiting: now.waiting.map((each) => (each.draft.key === key ? { ...each, refused: { words, fields } } : each)),
      }))
      return true
    }
    changeBox((now) => ({ ...now, waiting: now.waiting.filter((each) => each.draft.key !== key) }))
    const codes = sent.kept.lines.flatMap(({ batchCode, quantity, what }) => (batchCode ? [`${batchCode} on ${quantity} × ${what}`] : []))
    const write = codes.length > 0 ? ` Write ${codes.join(', ')}.` : ''
    setSaid((before) => [...before, `The parcel from ${sent.kept.donorName} was sent.${write}`])
    // What was promised has come: the page behind must not go on offering it.
    router.refresh()
    return true
  })

  const refused = waiting.filter((each) => each.refused !== null)
  if (!box || (open === 0 && refused.length === 0 && said.length === 0)) return null
  return (
    <div className={`page stack close ${styles.waiting}`}>
      <WaitingNotice
        title={open === 0 ? null : open === 1 ? '1 parcel is waiting on this phone' : `${open} parcels are waiting on this phone`}
        said={said}
        isSignedOut={isSignedOut}
        isKept={isKept}
      />
      {refused.map((each) => (
        <Refused key={each.draft.key} waiting={each} isFree={!isTouched(box.draft, box.photos[box.draft.key] !== undefined)} />
      ))}
    </div>
  )
}

function Refused({ waiting, isFree }: { waiting: WaitingParcel; isFree: boolean }) {
  const takeUp = () => {
    const others = (each: WaitingParcel) => each.draft.key !== waiting.draft.key
    changeBox((box) => ({ ...box, draft: waiting.draft, waiting: box.waiting.filter(others) }))
    if (window.location.pathname !== '/bench/parcels/new') window.location.assign('/bench/parcels/new')
  }
  return (
    <Notice tone="bad" live="status" title={`The parcel from ${waiting.from} was not taken`}>
      <p>{waiting.refused?.words} None of it was logged; it is still on this phone.</p>
      {isFree ? (
        <button type="button" className="button-line" onClick={takeUp}>
          Put it right
        </button>
      ) : (
        <p className="small">Log or clear the parcel below first, then put this one right.</p>
      )}
    </Notice>
  )
}
