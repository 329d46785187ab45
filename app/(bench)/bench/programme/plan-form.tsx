'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckField, RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Instant } from '#kernel/instant'
import { civilParts } from '#sale/programme/civil-time.rules'
import { lateWords } from '#sale/programme/late-words.rules'
import type { LateLot } from '#sale/programme/programme.contract'
import type { ItemKind } from '#sale/programme/programme.rules'
import { TimeFields } from './time-fields'

export interface PlanFormProps {
  zone: string
  opensAt: Instant
  lots: readonly { number: number; title: string }[]
  /** Lots whose machines lack parts that come too late. */
  late: readonly LateLot[]
}

const KINDS = [
  { value: 'closing', label: 'A closing', hint: 'keeps ten minutes before it and five after' },
  { value: 'guest', label: 'A guest', hint: 'may stay through closings' },
  { value: 'break', label: 'A break' },
] as const

/** Puts a closing, a guest or a break into the day. */
export function PlanForm({ zone, opensAt, lots, late }: PlanFormProps) {
  const router = useRouter()
  const [kind, setKind] = useState<ItemKind>(lots.length > 0 ? 'closing' : 'guest')
  const [lot, setLot] = useState('')
  const [isAnnounced, setAnnounced] = useState(false)
  const { run, pending, refusal } = useCommand(api.programme.plan.mutate)
  const lacking = kind === 'closing' ? late.find((one) => String(one.lot) === lot) : undefined
  const asksIfLate = kind === 'closing' && isAnnounced && (lacking !== undefined || refusal?.fields.evenIfLate !== undefined)
  const asksIfSoon = kind === 'closing' && isAnnounced && refusal?.fields.evenIfSoon !== undefined
  return (
    <CommandForm
      label="Put something in"
      pending={pending}
      refusal={refusal}
      run={(form) =>
        run({
          kind,
          ...(kind === 'closing' && form.text('lot') !== '' && { lot: form.whole('lot') }),
          title: form.text('title'),
          note: form.text('note'),
          on: form.text('on'),
          at: form.text('at'),
          which: form.text('which') as '' | 'first' | 'second',
          ...(kind !== 'closing' && { minutes: form.text('minutes'), keepsTime: form.ticked('keepsTime') }),
          announce: form.ticked('announce'),
          evenIfLate: form.ticked('evenIfLate'),
          evenIfSoon: form.ticked('evenIfSoon'),
        })
      }
      onDone={() => router.refresh()}
    >
      <RadioGroup name="kind" label="What is it?" choices={KINDS} defaultValue={kind} onChoose={(value) => setKind(value as ItemKind)} />
      {kind === 'closing' ? (
        <SelectField
          name="lot"
          label="Which lot closes?"
          hint={lots.length === 0 ? 'Every lot has a closing. Prepare another lot first.' : undefined}
          onChange={(event) => setLot(event.currentTarget.value)}
          options={[
            { value: '', label: 'Choose a lot' },
            ...lots.map((lot) => ({ value: String(lot.number), label: `Lot ${lot.number}: ${lot.title}` })),
          ]}
        />
      ) : (
        <TextField name="title" label={kind === 'guest' ? 'Who comes?' : 'What is it called?'} optional={kind === 'break'} />
      )}
      <TimeFields zone={zone} on={civilParts(opensAt, zone).on} at="" asksWhich={refusal?.fields.which !== undefined} />
      {kind !== 'closing' && (
        <TextField
          key={kind}
          name="minutes"
          label="For how many minutes?"
          width="code"
          inputMode="numeric"
          defaultValue={kind === 'break' ? '20' : '30'}
        />
      )}
      {kind !== 'closing' && <CheckField name="keepsTime" label="It cannot come later" hint="When the rest moves, it goes around this." />}
      <TextField name="note" label="A line for the programme" optional />
      {lacking && <p className="small">It may not be ready: {lateWords(lacking)}.</p>}
      <CheckField name="announce" label="Announce it at once" hint="What is announced moves later, never earlier." onCheck={setAnnounced} />
      {asksIfLate && <CheckField name="evenIfLate" label="Announce it although its machine may not be ready" />}
      {asksIfSoon && <CheckField name="evenIfSoon" label="Announce it although it comes so soon" />}
      <SubmitButton>Put it in</SubmitButton>
    </CommandForm>
  )
}
