'use client'

import { useSyncExternalStore } from 'react'
import { type Draft, emptyDraft } from './draft.rules'

/** What this phone keeps until the house has it: the parcel being written, and those that wait for a connection. */
export interface PhoneBox {
  draft: Draft
  waiting: Draft[]
}

const PLACE = 'tagstrip.parcels'
const listeners = new Set<() => void>()
let box: PhoneBox | null = null

/** Random bytes rather than randomUUID: that one is missing where the page was opened over plain HTTP. */
export function newKey(): string {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('')
}

function readBox(): PhoneBox {
  box ??= stored() ?? { draft: emptyDraft(newKey()), waiting: [] }
  return box
}

function stored(): PhoneBox | null {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(PLACE) ?? 'null')
    return typeof kept === 'object' && kept !== null && 'draft' in kept && 'waiting' in kept ? (kept as PhoneBox) : null
  } catch (cause) {
    if (cause instanceof SyntaxError || cause instanceof DOMException) return null
    throw cause
  }
}

export function changeBox(change: (box: PhoneBox) => PhoneBox): void {
  box = change(readBox())
  try {
    localStorage.setItem(PLACE, JSON.stringify(box))
  } catch (cause) {
    // The phone's storage is full or forbidden: the page goes on, only a reload would lose what is typed.
    if (!(cause instanceof DOMException)) throw cause
  }
  for (const listener of listeners) listener()
}

const subscribe = (listener: () => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

/** Null while the page is being made on the server, which has no such box. */
export const usePhoneBox = (): PhoneBox | null => useSyncExternalStore(subscribe, readBox, () => null)
