'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Bidder } from '#sale/bidding/bidders.service'

interface BiddersProps {
  lot: number
  bidders: Bidder[]
  /** The aliases of those for whom a void was asked already. */
  asked: readonly string[]
}

/** Who bids on the lot, and the voiding of somebody's bids, which needs two of the staff. */
export function Bidders({ lot, bidders, asked }: BiddersProps) {
  if (bidders.length === 0) return <p className="quiet">Nobody has bid yet.</p>
  return (
    <section className="stack" aria-labelledby="bidders">
      <h2 id="bidders">Bidders</h2>
      <table className="cards">
        <caption className="visually-hidden">Who bids on lot {lot}</caption>
        <thead>
          <tr>
            <th scope="col">Alias</th>
            <th scope="col">Paddle</th>
            <th scope="col">Name</th>
            <th scope="col" className="num">
              Bids
            </th>
            <th scope="col">
              <span className="visually-hidden">What can be done</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {bidders.map((one) => (
            <tr key={one.alias}>
              <th scope="row" className="code">
                {one.alias}
              </th>
              <td data-label="Paddle">{one.paddle}</td>
              <td data-label="Name">
                {one.name} {one.leads && <Chip tone="ok">Leads</Chip>} {one.isVoided && <Chip tone="bad">Voided</Chip>}
              </td>
              <td data-label="Bids" className="num">
                {one.bids}
              </td>
              <td>{!one.isVoided && !asked.includes(one.alias) && <AskVoid lot={lot} alias={one.alias} />}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

function AskVoid({ lot, alias }: { lot: number; alias: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.bidding.askVoid.mutate)
  return (
    <ConfirmButton
      run={async (form) => (await run({ lot, alias, reason: form.text('reason') })) ?? null}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      title={`Void the bids of ${alias}?`}
      undoes={
        <p>
          Another member of staff must agree. Then the lot is replayed without {alias}: the price may fall, and the closing is at least 15
          minutes away. It cannot be undone.
        </p>
      }
      fields={<TextField name="reason" label="Reason, for everybody to read" width="full" />}
      confirm="Ask for it"
      keep="Leave them"
    >
      Void…
    </ConfirmButton>
  )
}
