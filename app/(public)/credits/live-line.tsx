'use client'

import { api } from '#app/_trpc/client.ts'
import type { LotCredits, UnitCredits } from '#gifts/credits/credits.contract'
import { useCredits } from './use-credits'

/** "Ines Abreu, Tomas Berg and a friend", on the page of a lot or of a machine, for as long as each of them agrees. */
export function LiveLine({ initial, nobody }: { initial: LotCredits | UnitCredits; nobody: string }) {
  const credits = useCredits<LotCredits | UnitCredits>(initial, () =>
    'number' in initial ? api.credits.forLot.query({ number: initial.number }) : api.credits.forUnit.query({ tag: initial.unit }),
  )
  if (!credits) return <p className="quiet">The names are being reloaded.</p>
  return <p>{credits.line === '' ? nobody : `${credits.line}.`}</p>
}
