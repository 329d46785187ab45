'use client'

import './_ui/look/look'
import { FaultSheet } from './_ui/shell/fault-sheet'

/** Stands in for the whole document when even the root layout failed. */
export default function GlobalError({ error, reset }: { error: Error & { digest?: string }; reset: () => void }) {
  return (
    <html lang="en">
      <body>
        <title>Something broke on our side</title>
        <FaultSheet reference={error.digest} again={reset} />
      </body>
    </html>
  )
}
