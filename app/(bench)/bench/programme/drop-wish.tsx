'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'

/** Drops a wish at one press: it can be made again. */
export function DropWish({ wishId, words, look }: { wishId: string; words: string; look(): void }) {
  const router = useRouter()
  const { run, refusal } = useCommand(api.planning.dropWish.mutate)
  return (
    <>
      <button
        type="button"
        className="button-line"
        aria-label={`Drop: ${words}`}
        onClick={async () => {
          await run({ wishId })
          look()
          router.refresh()
        }}
      >
        Drop it
      </button>
      {refusal && <span role="alert">{refusal.words}</span>}
    </>
  )
}
