'use client'

import Link from 'next/link'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'

/** A calendar entry for anybody, and one mail before the closing for whoever is signed in and wants it. */
export function Reminders({ lot, isSignedIn, isReminded }: { lot: number; isSignedIn: boolean; isReminded: boolean }) {
  const [wanted, setWanted] = useState(isReminded)
  const { run, pending, refusal } = useCommand((input: { lot: number; wanted: boolean }) =>
    api.bidding.remind.mutate(input).then(() => input.wanted),
  )
  const change = async () => {
    const kept = await run({ lot, wanted: !wanted })
    if (kept !== undefined) setWanted(kept)
  }
  return (
    <div className="row">
      <a className="button-line" href={`/lots/${lot}/closing.ics`}>
        Closing in my calendar
      </a>
      {isSignedIn && (
        <button type="button" className="button-line" aria-pressed={wanted} aria-busy={pending} onClick={change}>
          {wanted ? 'Don’t email me before it closes' : 'Email me before it closes'}
        </button>
      )}
      <Link prefetch={false} className="button-line" href={`/me/told?lot=${lot}`}>
        Tell me on this device
      </Link>
      <span role="status" className="small quiet">
        {refusal ? refusal.words : wanted ? 'You get one email half an hour before the closing.' : ''}
      </span>
    </div>
  )
}
