'use client'

import { createStore, get, set, type UseStore } from 'idb-keyval'
import { useEffect, useSyncExternalStore } from 'react'
import { makeKey } from '#app/_trpc/use-form-key.ts'
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

/** What this phone keeps until the house has it, in its own database: it outlives the page, the browser and the battery. */
export interface PhoneBox {
  draft: Draft
  waiting: WaitingParcel[]
  photos: Record<string, Blob>
}

export const newKey = makeKey

const listeners = new Set<() => void>()
let box: PhoneBox | null = null
let isRead = false
let store: UseStore | null = null
let isKept = true

const theStore = (): UseStore => {
  store ??= createStore('tagstrip-parcels', 'box')
  return store
}

function tellAll(): void {
  for (const listener of listeners) listener()
}

async function readBox(): Promise<void> {
  try {
    const kept = await get<PhoneBox>('box', theStore())
    box = kept ?? { draft: emptyDraft(newKey()), waiting: [], photos: {} }
  } catch {
    // A browser that keeps nothing (a private window) still logs parcels; the page says that it must stay open.
    isKept = false
    box ??= { draft: emptyDraft(newKey()), waiting: [], photos: {} }
  }
  tellAll()
}

let writing: Promise<void> = Promise.resolve()

export function changeBox(change: (box: PhoneBox) => PhoneBox): void {
  if (!box) return
  const next = change(box)
  const live = new Set([next.draft.key, ...next.waiting.map(({ draft }) => draft.key)])
  box = { ...next, photos: Object.fromEntries(Object.entries(next.photos).filter(([key]) => live.has(key))) }
  const now = box
  // One after another, so that an older state never lands on a newer one.
  writing = writing
    .then(() => set('box', now, theStore()))
    .then(
      () => {
        isKept = true
      },
      () => {
        isKept = false
        tellAll()
      },
    )
  tellAll()
}

/** Changes what is being written. */
export const changeDraft = (change: (draft: Draft) => Draft): void => changeBox((now) => ({ ...now, draft: change(now.draft) }))

const subscribe = (listener: () => void) => {
  listeners.add(listener)
  if (!isRead) {
    isRead = true
    void readBox()
  }
  return () => listeners.delete(listener)
}

/** Null until it has been read from the phone, and while the page is made on the server. */
export function usePhoneBox(): PhoneBox | null {
  useEffect(() => {
    // Another tab may have sent or written meanwhile.
    const again = () => {
      if (document.visibilityState === 'visible') void writing.then(readBox)
    }
    document.addEventListener('visibilitychange', again)
    return () => document.removeEventListener('visibilitychange', again)
  }, [])
  return useSyncExternalStore(
    subscribe,
    () => box,
    () => null,
  )
}

/** False where the browser would not keep anything: then a closed page loses what was not sent. */
export const useIsKept = (): boolean =>
  useSyncExternalStore(
    subscribe,
    () => isKept,
    () => true,
  )
