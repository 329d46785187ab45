'use client'

import { createStore, get, set, type UseStore } from 'idb-keyval'
import { useEffect, useSyncExternalStore } from 'react'

export interface DeviceBox<Box> {
  subscribe(listener: () => void): () => void
  /** Null until it has been read from the device. */
  now(): Box | null
  isKept(): boolean
  change(by: (box: Box) => Box): void
  /** Reads it again, once what was changed here is written. */
  readAgain(): void
}

/** What this device keeps until the house has it, in a database of its own: it outlives the page, the browser and the battery. */
export function openDeviceBox<Box>(wishes: { name: string; empty(): Box; tidy?(box: Box): Box }): DeviceBox<Box> {
  const { name, empty, tidy = (box: Box) => box } = wishes
  const listeners = new Set<() => void>()
  let box: Box | null = null
  let isRead = false
  let store: UseStore | null = null
  let isKept = true
  let writing: Promise<void> = Promise.resolve()

  const theStore = (): UseStore => {
    store ??= createStore(name, 'box')
    return store
  }
  const tellAll = () => {
    for (const listener of listeners) listener()
  }
  const read = async () => {
    try {
      box = (await get<Box>('box', theStore())) ?? empty()
    } catch {
      // A browser that keeps nothing (a private window) still sends; the page says that it must stay open.
      isKept = false
      box ??= empty()
    }
    tellAll()
  }
  return {
    subscribe(listener) {
      listeners.add(listener)
      if (!isRead) {
        isRead = true
        void read()
      }
      return () => listeners.delete(listener)
    },
    now: () => box,
    isKept: () => isKept,
    change(by) {
      if (!box) return
      box = tidy(by(box))
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
    },
    readAgain: () => void writing.then(read),
  }
}

/** Null until it has been read from the device, and while the page is made on the server. */
export function useDeviceBox<Box>(box: DeviceBox<Box>): Box | null {
  useEffect(() => {
    // Another tab may have sent or written meanwhile.
    const again = () => {
      if (document.visibilityState === 'visible') box.readAgain()
    }
    document.addEventListener('visibilitychange', again)
    return () => document.removeEventListener('visibilitychange', again)
  }, [box])
  return useSyncExternalStore(box.subscribe, box.now, () => null)
}

/** False where the browser would not keep anything: then a closed page loses what was not sent. */
export const useIsKeptIn = <Box>(box: DeviceBox<Box>): boolean => useSyncExternalStore(box.subscribe, box.isKept, () => true)
