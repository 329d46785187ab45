'use client'

import { useState } from 'react'

// Not crypto.randomUUID: it is missing where a page is opened over plain HTTP from another device.
/** A key of one's own for what is sent. */
export const makeKey = () => Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('')

/** The key of what this form sends: kept for a retry, so that it has one effect; new after it was taken. */
export function useFormKey(): { key: string; renew(): void } {
  const [key, setKey] = useState(makeKey)
  return { key, renew: () => setKey(makeKey()) }
}
