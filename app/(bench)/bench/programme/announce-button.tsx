'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'

/** Announces everything that is planned so far; it asks first, since it cannot be taken back. */
export function AnnounceButton({ count }: { count: number }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(() => api.programme.announce.mutate())
  const what = count === 1 ? 'one item' : `${count} items`
  return (
    <div className="row">
      <p>
        <b>{count === 1 ? 'One item is' : `${count} items are`} not announced yet.</b> Nobody outside sees {count === 1 ? 'it' : 'them'}.
      </p>
      <ConfirmButton
        title={`Announce ${what}?`}
        undoes={<p>From then on {count === 1 ? 'it moves' : 'they move'} later only, never earlier. This cannot be taken back.</p>}
        confirm="Announce"
        keep="Not yet"
        pending={pending}
        refusal={refusal}
        run={() => run(undefined)}
        onDone={() => router.refresh()}
      >
        Announce {what}…
      </ConfirmButton>
    </div>
  )
}
