import 'server-only'
import { cookies } from 'next/headers'
import { connection } from 'next/server'
import { cache } from 'react'
import type { Slot } from '#doors/trpc/slot'

function slot(): Slot {
  const found = (globalThis as Record<symbol, unknown>)[Symbol.for('tagstrip.house')]
  if (!found) throw new Error('pages are served by server/main.ts, which opens the house first')
  return found as Slot
}

/** The house's procedures for a page, with the reader's own rights. One for each request. */
export const api = cache(async () => {
  await connection()
  return slot().callerFor((await cookies()).toString())
})

/** The server's time for this request. */
export const serverNow = cache(async () => {
  await connection()
  return slot().now()
})

/** What keeps the house from taking anything, in words; null on a good day. */
export const trouble = cache(async () => {
  await connection()
  return slot().trouble()
})

export const publicUrl = (): string => slot().publicUrl
