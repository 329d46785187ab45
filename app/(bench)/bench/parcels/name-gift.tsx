'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { TextButton } from '#app/_ui/text-button.tsx'
import type { PartIn } from '#stock/catalogue/part.contract'
import type { CatalogueEntry } from '#stock/catalogue/parts-meant.rules'
import { MeantParts } from './meant-parts'

/** Makes stock of what was written in words: the part that they may mean, once somebody says yes. */
export function NameGift({ giftId, words, catalogue }: { giftId: string; words: string; catalogue: readonly CatalogueEntry[] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.parcels.name.mutate)
  const [isOpen, setOpen] = useState(false)
  const [typed, setTyped] = useState(words)
  const name = async (part: { partId: string } | { newPart: PartIn }) => {
    if (pending) return
    if (await run({ giftId, ...part })) router.refresh()
  }
  if (!isOpen) {
    return (
      <TextButton label={`Put ${words} on the shelf`} press={() => setOpen(true)}>
        Put it on the shelf
      </TextButton>
    )
  }
  return (
    <div className="stack close">
      <label>
        Which part is it?{' '}
        <input type="text" value={typed} onChange={(event) => setTyped(event.currentTarget.value)} maxLength={200} autoComplete="off" />
      </label>
      <MeantParts
        typed={typed}
        catalogue={catalogue}
        isKnown={false}
        chosen={null}
        onKnown={(_words, partId) => void name({ partId })}
        onFresh={(fresh) => fresh && void name({ newPart: fresh.part })}
      />
      {refusal && <p role="alert">{refusal.words}</p>}
    </div>
  )
}
