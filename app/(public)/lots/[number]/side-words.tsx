'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { CONNECTIONS } from '#app/(public)/paddle/connections.ts'
import type { DisclosureKind } from '#sale/bidders/disclosures.contract'
import type { MySide } from '#sale/bidding/bidding.contract'

/** What a bidder may have to say besides a bid: that they are connected with the lot, or that a bid was a mistake. */
export function SideWords({ lot, side, hasBid }: { lot: number; side: MySide; hasBid: boolean }) {
  return (
    <div className="stack close">
      <Connected lot={lot} side={side} />
      {hasBid && !side.isVoided && <Retraction lot={lot} hasAsked={side.hasAskedRetraction} />}
    </div>
  )
}

function Connected({ lot, side }: { lot: number; side: MySide }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand((input: { lot: number; kind: DisclosureKind; words: string }) =>
    api.bidding.disclose.mutate(input).then(() => true),
  )
  const said = side.disclosed.filter(({ kind }) => kind !== 'none')
  if (said.length > 0)
    return <p className="small quiet">You said: {said.map(({ kind, words }) => `${CONNECTIONS[kind]}. ${words}`).join(' ')}</p>
  return (
    <details>
      <summary className="small">Are you connected with this lot?</summary>
      <CommandForm
        run={(form) => run({ lot, kind: form.text('kind') as DisclosureKind, words: form.text('words') })}
        pending={pending}
        refusal={refusal}
        onDone={() => router.refresh()}
        label="Connected with this lot"
      >
        <RadioGroup
          name="kind"
          label="In what way?"
          hint="You can still bid if you gave something; with the other two you cannot."
          choices={(['gave', 'household', 'worked'] as const).map((value) => ({ value, label: CONNECTIONS[value] }))}
        />
        <TextField name="words" label="In a few words" hint="Seen by the maker only." />
        <SubmitButton kind="line">Tell the maker</SubmitButton>
      </CommandForm>
    </details>
  )
}

function Retraction({ lot, hasAsked }: { lot: number; hasAsked: boolean }) {
  const [asked, setAsked] = useState(hasAsked)
  const { run, pending, refusal } = useCommand((input: { lot: number; reason: string }) =>
    api.bidding.askRetraction.mutate(input).then(() => true),
  )
  if (asked) return <p className="small quiet">You asked to withdraw your bid here. Two members of staff decide; until then it stands.</p>
  return (
    <details>
      <summary className="small">Was your bid a mistake?</summary>
      <CommandForm
        run={(form) => run({ lot, reason: form.text('reason') })}
        pending={pending}
        refusal={refusal}
        onDone={() => setAsked(true)}
        label="Ask to withdraw a bid"
      >
        <p className="small">You cannot withdraw a bid yourself. You can ask; two members of staff decide whether it is voided.</p>
        <TextField name="reason" label="What happened?" />
        <SubmitButton kind="line">Ask us</SubmitButton>
      </CommandForm>
    </details>
  )
}
