'use client'

import { Tag } from '../tag'
import { LoneSheet } from './lone-sheet'

/** A fault of ours: what is known to be safe, what to do, and the reference under which it is in the log. */
export function FaultSheet({ reference, again }: { reference?: string; again: () => void }) {
  return (
    <LoneSheet>
      <Tag code={reference ? `Fault ${reference}` : 'Fault'} tone="bad">
        <h1>Something broke on our side</h1>
      </Tag>
      <p>
        What was already taken (a bid with its receipt, a reading that was kept) is stored and stays. Try again in a moment
        {reference ? '; if it happens again, tell the maker this reference.' : '.'}
      </p>
      <div className="row">
        <button type="button" className="button" onClick={again}>
          Try again
        </button>
        <a className="button-line" href="/">
          To the lots
        </a>
      </div>
    </LoneSheet>
  )
}
