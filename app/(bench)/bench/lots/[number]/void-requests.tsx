'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { When } from '#app/_ui/when.tsx'
import type { VoidRequest } from '#sale/bidding/bidding.contract'

/** Voids that wait for the second of the two, who may be the treasurer too; whoever may not be the second reads why. */
export function VoidRequests({ lot, requests, zone }: { lot: number; requests: readonly VoidRequest[]; zone: string }) {
  if (requests.length === 0) return null
  return (
    <section className="stack" aria-labelledby="void-requests">
      <h2 id="void-requests">A void is waiting for a second member of staff</h2>
      {requests.map((request) => (
        <OneRequest key={request.alias} lot={lot} request={request} zone={zone} />
      ))}
    </section>
  )
}

function OneRequest({ lot, request, zone }: { lot: number; request: VoidRequest; zone: string }) {
  const { alias, reason, askedBy, askedRole, at, whyNot } = request
  const router = useRouter()
  const agree = useCommand(api.bidding.agreeVoid.mutate)
  const drop = useCommand(api.bidding.dropVoid.mutate)
  return (
    <div className="sheet act stack close">
      <p>
        {askedBy}, {askedRole}, asked <When at={at} zone={zone} brief /> to void the bids of <b className="code">{alias}</b>: {reason}
      </p>
      <p className="quiet small">
        Then the lot is replayed without {alias}: the price may fall, and the closing is at least 15 minutes away. It cannot be undone. The
        public history shows both, by role and time.
      </p>
      {whyNot !== null && <p className="quiet">{whyNot}</p>}
      <div className="row">
        {whyNot === null && (
          <CommandForm
            run={() => agree.run({ lot, alias, askedAt: at })}
            pending={agree.pending}
            refusal={agree.refusal}
            onDone={() => router.refresh()}
            label={`Agree to void ${alias}`}
          >
            <SubmitButton kind="bad">Agree, void them</SubmitButton>
          </CommandForm>
        )}
        <CommandForm
          run={async () => (await drop.run({ lot, alias })) ?? null}
          pending={drop.pending}
          refusal={drop.refusal}
          onDone={() => router.refresh()}
          label={`Drop the request about ${alias}`}
        >
          <SubmitButton kind="line">Drop the request</SubmitButton>
        </CommandForm>
      </div>
    </div>
  )
}
