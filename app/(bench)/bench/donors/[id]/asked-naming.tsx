'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Notice } from '#app/_ui/notice.tsx'

/** What a donor asks on their own page to be called; it shows nowhere before it was read here. */
export function AskedNaming({ donorId, creditName, sayIt }: { donorId: string; creditName: string; sayIt: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.donors.answerNaming.mutate)
  const answer = async (isTaken: boolean) => {
    await run({ donorId, isTaken })
    router.refresh()
  }
  return (
    <Notice tone="doubt" title={`They ask to be called “${creditName}”`}>
      {sayIt !== '' && <p>Said {sayIt}.</p>}
      <div className="row">
        <button type="button" className="button-line" onClick={() => answer(true)}>
          Use it
        </button>
        <button type="button" className="button-line" onClick={() => answer(false)}>
          Leave it as it is
        </button>
      </div>
      <p role="status" className="small">
        {refusal ? refusal.words : pending ? 'Saving…' : ''}
      </p>
    </Notice>
  )
}
