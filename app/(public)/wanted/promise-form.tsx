'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CheckboxGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { CONSENT_USES, type ConsentUse } from '#stock/donors/donor.contract'

const USES: Record<ConsentUse, string> = {
  page: 'On this site',
  stream: 'On stream',
  card: 'On a printed card with the machine, which cannot be recalled',
}

/** Something that is not on the list: an extra for a lot, a case, an afternoon's help. */
const OTHER = 'other'

interface PromiseFormProps {
  parts: { partId: string; what: string; quantity: number }[]
  chosen: string | undefined
}

/** Anybody may promise. It is shown to nobody before the maker has read it. */
export function PromiseForm({ parts, chosen }: PromiseFormProps) {
  const [partId, setPartId] = useState(chosen ?? parts[0]?.partId ?? OTHER)
  const [promised, setPromised] = useState<{ what: string; quantity: number } | null>(null)
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.donors.promise.mutate)
  const part = parts.find((each) => each.partId === partId)
  if (promised) {
    return (
      <Notice tone="ok" live="status" title="Thank you">
        <p>
          {promised.quantity} × {promised.what}: the maker reads it and answers by email, with the address to send it to. Please send
          nothing before that.
        </p>
        <button type="button" className="button-line" onClick={() => setPromised(null)}>
          Promise something else
        </button>
      </Notice>
    )
  }
  return (
    <CommandForm
      run={async (form) => {
        const uses = form.list('consents')
        const content = {
          ...(partId === OTHER ? { words: form.text('words') } : { partId }),
          quantity: form.text('quantity'),
          name: form.text('name'),
          mail: form.text('mail'),
          note: form.text('note'),
          consents: { page: uses.includes('page'), stream: uses.includes('stream'), card: uses.includes('card') },
        }
        return run({ key, ...content })
      }}
      pending={pending}
      refusal={refusal}
      onDone={(answer) => {
        renew()
        setPromised(answer)
      }}
      label="Promise something"
    >
      <SelectField
        name="partId"
        label="What?"
        value={partId}
        onChange={(event) => setPartId(event.currentTarget.value)}
        options={[
          ...parts.map(({ partId: value, what, quantity }) => ({ value, label: `${what} (${quantity} wanted)` })),
          { value: OTHER, label: 'Something else' },
        ]}
      />
      {partId === OTHER && <TextField name="words" label="What are you offering?" maxLength={200} />}
      <TextField
        name="quantity"
        label="How many?"
        hint={part && (part.quantity === 1 ? 'One is wanted.' : `${part.quantity} are wanted; any number helps.`)}
        inputMode="numeric"
        width="code"
        autoComplete="off"
      />
      <TextField name="name" label="Your name" autoComplete="name" maxLength={120} />
      <TextField
        name="mail"
        label="Your email address"
        hint="For the address to send it to, and for thanks. Never shown to anybody."
        type="email"
        inputMode="email"
        autoComplete="email"
      />
      {partId !== OTHER && (
        <TextField name="note" label="Anything about the parts" hint="Their marking, for instance." optional maxLength={200} />
      )}
      <CheckboxGroup
        name="consents"
        label="May we name you?"
        hint="You can change each of these at any time, on your own page."
        choices={CONSENT_USES.map((use) => ({ value: use, label: USES[use] }))}
      />
      <SubmitButton>Promise it</SubmitButton>
    </CommandForm>
  )
}
