'use client'

import { useMemo, useSyncExternalStore } from 'react'
import type { Instant } from '#kernel/instant'
import { type PictureDelay, readKept } from './picture-delay.rules'

const KEPT_AS = 'tagstrip-picture-delay'
const listeners = new Set<() => void>()

function subscribe(changed: () => void): () => void {
  listeners.add(changed)
  addEventListener('storage', changed)
  return () => {
    listeners.delete(changed)
    removeEventListener('storage', changed)
  }
}

/** A browser may forbid its storage: then a measurement lives as long as the page. */
let unkept: string | null = null
function read(): string | null {
  try {
    return localStorage.getItem(KEPT_AS) ?? unkept
  } catch {
    return unkept
  }
}

/** Keeps it on this device and nowhere else; null forgets it. */
export function keepPictureDelay(delay: PictureDelay | null): void {
  unkept = delay && JSON.stringify(delay)
  try {
    if (unkept === null) localStorage.removeItem(KEPT_AS)
    else localStorage.setItem(KEPT_AS, unkept)
  } catch {
    // Kept for this page alone.
  }
  for (const changed of listeners) changed()
}

/** How late this reader's picture is; null when it was not measured, or long ago. */
export function usePictureDelay(now: Instant): PictureDelay | null {
  const text = useSyncExternalStore(subscribe, read, () => null)
  const minute = Math.floor(now / 60_000)
  // Its age is told in minutes, so it is looked at once in each.
  return useMemo(() => readKept(text, minute * 60_000), [text, minute])
}
