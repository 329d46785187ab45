'use client'

import { makeKey } from '#app/_trpc/use-form-key.ts'
import { openDeviceBox, useDeviceBox, useIsKeptIn } from '#app/_ui/device-box.ts'
import type { ParcelIn } from '#gifts/parcels/parcel.contract'
import { type Draft, emptyDraft } from './draft.rules'

/** A parcel that waits on this phone, exactly as it will be sent: the same key with the same content, however often. */
export interface WaitingParcel {
  draft: Draft
  parcel: ParcelIn
  places: number[]
  from: string
  since: number
  /** Why the house would not have it; it is put right by hand. */
  refused: { words: string; fields: Record<string, string> } | null
}

/** What is being written on this phone, what waits on it, and the photographs of both by the key of their parcel. */
export interface PhoneBox {
  draft: Draft
  waiting: WaitingParcel[]
  photos: Record<string, Blob>
}

export const newKey = makeKey

const phoneBox = openDeviceBox<PhoneBox>({
  name: 'tagstrip-parcels',
  empty: () => ({ draft: emptyDraft(newKey()), waiting: [], photos: {} }),
  tidy: (box) => {
    const live = new Set([box.draft.key, ...box.waiting.map(({ draft }) => draft.key)])
    return { ...box, photos: Object.fromEntries(Object.entries(box.photos).filter(([key]) => live.has(key))) }
  },
})

export const changeBox = phoneBox.change
export const usePhoneBox = (): PhoneBox | null => useDeviceBox(phoneBox)
export const useIsKept = (): boolean => useIsKeptIn(phoneBox)

/** Changes what is being written. */
export const changeDraft = (change: (draft: Draft) => Draft): void => changeBox((now) => ({ ...now, draft: change(now.draft) }))
