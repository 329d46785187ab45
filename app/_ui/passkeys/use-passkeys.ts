'use client'

import { useEffect, useState } from 'react'
import { whyNoPasskey } from './where-passkeys-work.rules'

/** Whether passkeys work on this page, and the reason where they do not; undefined until the browser has been looked at. */
export function usePasskeys(publicUrl: string): { works: boolean; whyNot: string | null } | undefined {
  const [found, setFound] = useState<{ works: boolean; whyNot: string | null }>()
  useEffect(() => {
    const whyNot = whyNoPasskey({
      isSecure: window.isSecureContext,
      knowsPasskeys: typeof window.PublicKeyCredential === 'function',
      origin: window.location.origin,
      publicUrl,
    })
    setFound({ works: whyNot === null, whyNot })
  }, [publicUrl])
  return found
}
