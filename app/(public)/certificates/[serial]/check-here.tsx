'use client'

import { useEffect, useState } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import { type Checked, checkInBrowser } from './check-in-browser'

const OUTCOMES = {
  holds: { tone: 'ok', title: 'The signature holds' },
  broken: { tone: 'bad', title: 'The signature does not hold' },
  unable: { tone: 'doubt', title: 'It could not be checked' },
} as const

/** Fetches the signed record and the published key, and checks one against the other here: the house is asked for nothing but the two files. */
export function CheckHere({ serial }: { serial: string }) {
  const [hasScript, setHasScript] = useState(false)
  const [checked, setChecked] = useState<Checked | 'checking' | null>(null)
  useEffect(() => setHasScript(true), [])
  if (!hasScript)
    return <p>Without scripts this page cannot check the signature; the lines at the end of this sheet check it on any computer.</p>
  return (
    <>
      <p>
        <button
          type="button"
          className="button"
          onClick={() => {
            setChecked('checking')
            checkInBrowser(serial).then(setChecked)
          }}
        >
          Check the signature in this browser
        </button>
      </p>
      <div role="status">
        {checked === 'checking' && <p>Checking…</p>}
        {checked !== null && checked !== 'checking' && (
          <Notice {...OUTCOMES[checked.outcome]}>
            <p>{checked.words}</p>
          </Notice>
        )}
      </div>
    </>
  )
}
