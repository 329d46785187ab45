'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { lateWords } from '#sale/programme/late-words.rules'
import type { LateLot } from '#sale/programme/programme.contract'

/** Announces everything that is planned so far for a stream day; it asks first, since it cannot be taken back. */
export function AnnounceButton({ day, count, late }: { day: number; count: number; late: readonly LateLot[] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.programme.announce.mutate)
  const what = count === 1 ? 'one item' : `${count} items`
  return (
    <div className="row">
      <p>
        <b>{count === 1 ? 'One item is' : `${count} items are`} not announced yet.</b> Nobody outside sees {count === 1 ? 'it' : 'them'}.
      </p>
      <ConfirmButton
        title={`Announce ${what}?`}
        undoes={
          <>
            {late.map((one) => (
              <p key={one.lot}>
                <b>Lot {one.lot} may not be ready:</b> {lateWords(one)}.
              </p>
            ))}
            <p>From then on {count === 1 ? 'it moves' : 'they move'} later only, never earlier. This cannot be taken back.</p>
          </>
        }
        confirm={late.length > 0 ? 'Announce it all the same' : 'Announce'}
        keep="Not yet"
        pending={pending}
        refusal={refusal}
        // What became late or comes soon is said by the house, and announced by a second press.
        run={() => run({ day, evenIfLate: late.length > 0 || refusal !== null, evenIfSoon: refusal?.fields.evenIfSoon !== undefined })}
        onDone={() => router.refresh()}
      >
        Announce {what}…
      </ConfirmButton>
    </div>
  )
}
