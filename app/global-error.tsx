'use client'

import './_ui/look/fonts'
import './_ui/look/tokens.css'
import './_ui/look/base.css'
import './_ui/look/classes.css'
import './_ui/look/print.css'
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
