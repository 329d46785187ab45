'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CONSENT_USES, type Consents } from '#stock/donors/donor.contract'
import { USE_QUESTIONS } from './donor-words'

/** Consent, use by use. A change is kept at once and counts everywhere at once. */
export function ConsentSwitches({ donorId, consents }: { donorId: string; consents: Consents }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.donors.consent.mutate)
  const change = async (use: (typeof CONSENT_USES)[number], given: boolean) => {
    await run({ donorId, use, given })
    router.refresh()
  }
  return (
    <fieldset className="ticks">
      <legend className="visually-hidden">May we name them?</legend>
      {CONSENT_USES.map((use) => (
        <label key={use} className="tick">
          <input type="checkbox" checked={consents[use]} onChange={(event) => change(use, event.currentTarget.checked)} />
          <span>{USE_QUESTIONS[use]}</span>
        </label>
      ))}
      <p role="status" className="small quiet">
        {refusal ? refusal.words : pending ? 'Saving…' : ''}
      </p>
    </fieldset>
  )
}
