'use client'

import { useEffect, useRef, useState } from 'react'
import { Notice } from '../../../../_ui/notice'
import { type Draft, isTouched, type Known } from './draft.rules'
import { changeBox } from './phone-box'
import { sendParcel } from './send-parcel'

const RETRY_EVERY = 20_000

/** Parcels that wait on this phone for a connection: sent one by one when it is back, never twice, and said so. */
export function WaitingParcels({ waiting, known }: { waiting: readonly Draft[]; known: Known }) {
  const [said, setSaid] = useState('')
  const busy = useRef(false)
  const latest = useRef({ waiting, known })
  latest.current = { waiting, known }

  useEffect(() => {
    const sendAll = async () => {
      if (busy.current) return
      busy.current = true
      for (const draft of latest.current.waiting) {
        const sent = await sendParcel(draft, latest.current.known)
        if (sent.is === 'unreached') break
        changeBox((box) => {
          const left = box.waiting.filter((each) => each.key !== draft.key)
          // What the house refuses comes back to be put right, unless another parcel is being written.
          return sent.is === 'refused' && !isTouched(box.draft)
            ? { draft, waiting: left }
            : sent.is === 'refused'
              ? box
              : { ...box, waiting: left }
        })
        setSaid(
          sent.is === 'kept'
            ? `The parcel from ${sent.kept.donorName} was sent.`
            : `A parcel that waited was refused: ${sent.refusal.words}`,
        )
        if (sent.is === 'refused') break
      }
      busy.current = false
    }
    void sendAll()
    window.addEventListener('online', sendAll)
    const timer = setInterval(sendAll, RETRY_EVERY)
    return () => {
      window.removeEventListener('online', sendAll)
      clearInterval(timer)
    }
  }, [])

  if (waiting.length === 0 && said === '') return null
  return (
    <Notice tone={waiting.length > 0 ? 'doubt' : 'ok'} live="status" title={waiting.length > 0 ? 'Kept on this phone' : undefined}>
      {waiting.length > 0 && (
        <p>
          {waiting.length === 1 ? 'One parcel waits' : `${waiting.length} parcels wait`} for a connection and will be sent once. Keep this
          page or come back to it.
        </p>
      )}
      {said !== '' && <p>{said}</p>}
    </Notice>
  )
}
