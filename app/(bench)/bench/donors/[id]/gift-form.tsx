'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { restrictionOf } from '#app/(bench)/bench/parcels/new/draft.rules.ts'
import { type Currency, parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import type { GiftKind } from '#stock/donors/donor.contract'
import { type Goals, OnlyFor } from '../only-for'

const KINDS: { value: GiftKind; label: string }[] = [
  { value: 'parts', label: 'Parts, promised' },
  { value: 'boards', label: 'Boards, promised' },
  { value: 'cases', label: 'Cases, promised' },
  { value: 'extras', label: 'Something else, promised' },
  { value: 'labour', label: 'Help, already given' },
  { value: 'postage', label: 'Postage, already given' },
  { value: 'money', label: 'Money, already given' },
]

interface GiftFormProps {
  donorId: string
  parts: { id: string; words: string }[]
  /** Null before there is a campaign to say in which currency money is named. */
  currency: Currency | null
  goals: Goals
}

/** Asks only what the kind of gift needs: how many, how long, or how much. */
export function GiftForm({ donorId, parts, currency, goals }: GiftFormProps) {
  const router = useRouter()
  const [kind, setKind] = useState<GiftKind>('parts')
  const [moneyWords, setMoneyWords] = useState<{ words: string; fields: Record<string, string> } | null>(null)
  const { run, pending, refusal } = useCommand(api.gifts.add.mutate)
  const isThing = kind === 'parts' || kind === 'boards' || kind === 'cases' || kind === 'extras'
  return (
    <CommandForm
      run={async (form) => {
        setMoneyWords(null)
        let amountMinor: number | undefined
        try {
          if (kind === 'money' && currency !== null) amountMinor = parseMoney(form.text('amountMinor'), currency, 'amountMinor')
        } catch (reason) {
          if (!(reason instanceof Refusal)) throw reason
          return setMoneyWords({ words: reason.message, fields: reason.fields })
        }
        const partId = form.maybe('partId')
        return run({
          donorId,
          kind,
          words: form.text('words'),
          ...(partId === undefined ? {} : { partId }),
          ...(isThing ? { quantity: form.text('quantity') } : {}),
          ...(kind === 'labour' ? { minutes: form.text('minutes') } : {}),
          ...(amountMinor === undefined ? {} : { amountMinor }),
          ...restrictionOf(form.text('onlyFor')),
        })
      }}
      pending={pending}
      refusal={moneyWords ?? refusal}
      onDone={(gift) => {
        if (gift) router.refresh()
      }}
      emptyWhenDone
      label="A gift"
    >
      <SelectField
        name="kind"
        label="What kind?"
        value={kind}
        onChange={(event) => setKind(event.currentTarget.value as GiftKind)}
        options={currency === null ? KINDS.filter(({ value }) => value !== 'money') : KINDS}
      />
      {isThing && kind !== 'extras' && (
        <SelectField
          name="partId"
          label="Which part?"
          optional
          options={[{ value: '', label: 'Not in the catalogue' }, ...parts.map(({ id, words }) => ({ value: id, label: words }))]}
        />
      )}
      <TextField name="words" label="Describe it" optional={isThing && kind !== 'extras'} maxLength={200} />
      {isThing && <TextField name="quantity" label="How many?" inputMode="numeric" width="code" />}
      {kind === 'labour' && (
        <TextField name="minutes" label="How many minutes?" hint="Help has no cash value." inputMode="numeric" width="code" />
      )}
      {kind === 'money' && currency !== null && <MoneyField name="amountMinor" label="How much?" currency={currency} />}
      {kind === 'money' && <p className="small quiet">For the credits and the thanks. The treasurer records it in the books.</p>}
      <OnlyFor goals={goals} />
      <SubmitButton kind="line">Add the gift</SubmitButton>
    </CommandForm>
  )
}
