'use client'

import { useEffect, useState } from 'react'
import { Notice } from '../notice'

/** Opened over plain HTTP from another device, a browser withholds what needs TLS: the page says so instead of failing. */
export function PlainHttp() {
  const [isPlain, setPlain] = useState(false)
  useEffect(() => setPlain(!window.isSecureContext), [])
  if (!isPlain) return null
  return (
    <Notice tone="doubt" title="This page came over plain HTTP">
      <p>
        Signing in works on this network only, and the browser withholds passkeys and the means to check signatures and receipts. Use the
        HTTPS address of this house.
      </p>
    </Notice>
  )
}
