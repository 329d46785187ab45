'use client'

import { useState } from 'react'

/** Copies a text that is to be put into another program, and says so to whoever does not see it. */
export function CopyButton({ text, what }: { text: string; what: string }) {
  const [said, setSaid] = useState('')
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text)
      setSaid('Copied')
    } catch {
      setSaid('Not copied: select it and copy it yourself')
    }
  }
  return (
    <>
      <button type="button" className="button-line needs-script" onClick={copy}>
        Copy <span className="visually-hidden">{what}</span>
      </button>{' '}
      <span role="status" className="small">
        {said}
        {said === 'Copied' && <span className="visually-hidden">: {what}</span>}
      </span>
    </>
  )
}
