'use client'

import { useRouter } from 'next/navigation'

/** Prints the sheet, or makes it anew first. */
export function PrintButton() {
  const router = useRouter()
  return (
    <div className="row no-print">
      <button type="button" className="button" onClick={() => print()}>
        Print it
      </button>
      <button type="button" className="button-line" onClick={() => router.refresh()}>
        Bring it up to date
      </button>
    </div>
  )
}
