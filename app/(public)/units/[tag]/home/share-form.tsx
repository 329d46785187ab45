'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import type { HomeView } from '#bench/certificates/home.service'
import type { Kept } from './kept'

/** Sends the readings to the maker, who finds them with the unit. Nothing is sent but what stands here. */
export function ShareForm({ view, kept, box }: { view: HomeView; kept: Kept; box: string }) {
  const { run, pending, refusal } = useCommand(api.certificates.shareHome.mutate)
  const { key, renew } = useFormKey()
  const [shared, setShared] = useState<{ compared: number; apart: number } | null>(null)
  const readings = view.checks.map(({ check }) => ({ check, written: kept.readings[check] ?? '' }))
  return (
    <section className="sheet stack" aria-labelledby="share-title">
      <h2 id="share-title">Share them with the maker (optional)</h2>
      <p>They are kept with {view.tag}, without your name: knowing how it ages helps build the next ones better.</p>
      <CommandForm
        run={(form) => run({ key, tag: view.tag, code: form.text('code'), note: form.text('note'), meter: kept.meter, readings })}
        pending={pending}
        refusal={refusal}
        onDone={(answer) => {
          setShared(answer)
          renew()
        }}
      >
        <TextField name="code" label="Code on the card in the box" defaultValue={box} width="code" autoComplete="off" mono />
        <TextareaField name="note" label="A note to the maker" optional maxLength={600} rows={3} />
        <SubmitButton kind="line" waiting="Sending">
          Share my readings
        </SubmitButton>
      </CommandForm>
      {shared && (
        <Notice tone="ok" title="The maker has them" live="status">
          <p>
            {shared.compared === 1 ? 'One reading' : `${shared.compared} readings`} of {view.tag},{' '}
            {shared.apart === 0 ? 'all of them in agreement with the bench' : `${shared.apart} that differ from the bench`}. Thank you.
          </p>
        </Notice>
      )}
    </section>
  )
}
