'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import type { Yours } from '#gifts/yours/yours.contract'
import { CONSENT_USES, type Consents, type ConsentUse } from '#stock/donors/donor.contract'

const USES: Record<ConsentUse, string> = {
  page: 'On this site',
  stream: 'On the stream',
  card: 'On a printed card with the machine, which cannot be recalled once it is printed',
}

const SHOWN = [
  { value: 'named', label: 'By my name' },
  { value: 'friend', label: 'As “a friend”' },
  { value: 'maker-only', label: 'Not at all; the maker knows' },
]

interface YourNamingProps {
  token: string
  yours: Yours
  onChanged: (yours: Yours) => void
  onClosed: () => void
}

/** Whether and as what a donor is named. Taking a consent back counts everywhere at once. */
export function YourNaming({ token, yours, onChanged, onClosed }: YourNamingProps) {
  const consent = useCommand(api.yours.consent.mutate)
  const naming = useCommand(api.yours.naming.mutate)
  const close = useCommand(async (input: { token: string }) => {
    await api.yours.close.mutate(input)
    return true
  })
  const [said, setSaid] = useState('')
  // What was just pressed shows at once; what the house answers then stands.
  const [wish, setWish] = useState<Partial<Consents>>({})
  const change = async (use: ConsentUse, given: boolean) => {
    setSaid('')
    setWish({ [use]: given })
    const next = await consent.run({ token, use, given })
    setWish({})
    if (!next) return
    onChanged(next)
    setSaid(given ? 'Thank you. It takes effect now.' : 'Withdrawn. You are no longer named there.')
  }
  return (
    <div className="stack wide">
      <section className="sheet stack close" aria-labelledby="may-we">
        <h2 id="may-we">May we name you?</h2>
        <fieldset className="ticks">
          <legend className="visually-hidden">Where you may be named</legend>
          {CONSENT_USES.map((use) => (
            <label key={use} className="tick">
              <input
                type="checkbox"
                checked={wish[use] ?? yours.consents[use]}
                onChange={(event) => change(use, event.currentTarget.checked)}
              />
              <span>{USES[use]}</span>
            </label>
          ))}
        </fieldset>
        <p role="status" className="small">
          {consent.refusal ? consent.refusal.words : consent.pending ? 'Saving…' : said}
        </p>
      </section>
      <section className="sheet stack close" aria-labelledby="as-what">
        <h2 id="as-what">How?</h2>
        {yours.asked && (
          <Notice title={`You asked to be called “${yours.asked.creditName}”`}>
            <p>The maker checks it before it is shown. Until then you appear as “{yours.creditName}”.</p>
          </Notice>
        )}
        <CommandForm
          run={(form) =>
            naming.run({
              token,
              creditName: form.text('creditName'),
              sayIt: form.text('sayIt'),
              anonymity: form.text('anonymity') as 'named' | 'friend' | 'maker-only',
            })
          }
          pending={naming.pending}
          refusal={naming.refusal}
          onDone={(next) => next && onChanged(next)}
          label="How you are named"
        >
          <SelectField
            name="anonymity"
            label="I am shown"
            hint="Takes effect at once."
            defaultValue={yours.anonymity === 'unknown' ? 'maker-only' : yours.anonymity}
            options={SHOWN}
          />
          <TextField
            name="creditName"
            label="My name, as it is spelt"
            maxLength={120}
            defaultValue={yours.asked?.creditName ?? yours.creditName}
          />
          <TextField
            name="sayIt"
            label="How to say it"
            hint="For the host, such as TOH-mas."
            optional
            maxLength={120}
            defaultValue={yours.asked?.sayIt ?? yours.sayIt}
          />
          <SubmitButton kind="line">Save</SubmitButton>
        </CommandForm>
      </section>
      <section className="stack close" aria-labelledby="link">
        <h2 id="link">This link</h2>
        <p className="small">Whoever has it can open this page. Nobody else’s gifts are on it.</p>
        <ConfirmButton
          run={() => close.run({ token })}
          pending={close.pending}
          refusal={close.refusal}
          onDone={onClosed}
          title="Close this link?"
          undoes={<p>It stops working, here and everywhere. You can ask for a new one by email at any time.</p>}
          confirm="Close it"
        >
          Close this link…
        </ConfirmButton>
      </section>
    </div>
  )
}
