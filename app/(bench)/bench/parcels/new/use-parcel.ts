'use client'

import { useRouter } from 'next/navigation'
import { useEffect, useRef, useState } from 'react'
import type { Refused } from '#app/_trpc/use-command.ts'
import type { FormValues } from '#app/_ui/forms/form-values.ts'
import type { ParcelKept } from '#gifts/parcels/parcel.contract'
import { emptyDraft, isTouched, type Known, senderOf, toParcel, whatIsMissing } from './draft.rules'
import { changeBox, changeDraft, newKey, usePhoneBox, type WaitingParcel } from './phone-box'
import { sendParcel } from './send-parcel'

type Done = { is: 'kept'; kept: ParcelKept } | { is: 'waits'; key: string; from: string }

/** The parcel that is being written on this phone, and its way to the house: kept there, refused, or waiting here. */
export function useParcel(known: Known) {
  const router = useRouter()
  const box = usePhoneBox()
  const [pending, setPending] = useState(false)
  const [refusal, setRefusal] = useState<Refused | null>(null)
  const [done, setDone] = useState<Done | null>(null)
  const [wasPickedUp, setPickedUp] = useState(false)
  const isFirst = useRef(true)
  useEffect(() => {
    if (!box || !isFirst.current) return
    isFirst.current = false
    setPickedUp(isTouched(box.draft, box.photos[box.draft.key] !== undefined))
  }, [box])

  const afresh = () => {
    changeDraft(() => emptyDraft(newKey()))
    setPickedUp(false)
    setRefusal(null)
  }
  const send = async (form: FormValues) => {
    if (!box) return
    const { draft, photos } = box
    // The counts as they stand in their boxes: full-width digits and slips of the pen are for the house to read or refuse.
    const counted = { ...draft, lines: draft.lines.map((line, place) => ({ ...line, quantity: form.text(`lines.${place}.quantity`) })) }
    const missing = whatIsMissing(counted)
    const [words] = Object.values(missing)
    // With or without a connection: what lacks something is not laid by to be refused later.
    if (words !== undefined) return setRefusal({ words, fields: missing, code: null, unreached: false })
    setPending(true)
    setRefusal(null)
    const ready = toParcel(counted, known)
    const sent = await sendParcel(ready, photos[draft.key])
    setPending(false)
    if (sent.is === 'refused') return setRefusal(sent.refusal)
    if (sent.is === 'kept') {
      setDone({ is: 'kept', kept: sent.kept })
      router.refresh()
      afresh()
      return
    }
    // What may have reached the house already waits as it was sent: the same key never goes out with other content.
    const from = senderOf(counted, known)
    const waits: WaitingParcel = { draft: counted, ...ready, from, since: Date.now(), refused: null }
    setDone({ is: 'waits', key: counted.key, from })
    setPickedUp(false)
    changeBox((now) => ({ ...now, draft: emptyDraft(newKey()), waiting: [...now.waiting, waits] }))
  }
  const next = () => {
    setDone(null)
    window.scrollTo(0, 0)
  }
  return { box, pending, refusal, done, wasPickedUp, afresh, send, next }
}
