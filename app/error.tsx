'use client'

import { FaultSheet } from './_ui/shell/fault-sheet'

export default function ErrorPage({ error, reset }: { error: Error & { digest?: string }; reset: () => void }) {
  return <FaultSheet reference={error.digest} again={reset} />
}
