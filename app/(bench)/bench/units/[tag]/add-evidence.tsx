'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { EvidenceField, type EvidenceStep } from '#app/_ui/forms/evidence-field.tsx'
import { KeptInput } from '#app/_ui/forms/kept-input.tsx'
import { evidenceKindOf, type SentEvidence, sendEvidence } from '#app/_ui/forms/send-evidence.ts'
import { shrinkPhoto } from '#app/_ui/forms/shrink-photo.ts'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextareaField } from '#app/_ui/forms/text-fields.tsx'
import { layByPicture } from '#app/(bench)/bench/units/_waiting/reading-box.ts'
import type { BringupView } from '#floor/bringup/bringup.contract'

interface Arrived {
  name: string
  sent: SentEvidence
}

/** Adds a file beside a reading that was taken already, or for the machine as a whole. The reading stays as it is. */
export function AddEvidence({ view, again }: { view: BringupView; again(): void }) {
  const [step, setStep] = useState<EvidenceStep>({ is: 'empty' })
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.bringup.addEvidence.mutate)
  const [round, setRound] = useState(0)
  const take = async (file: File | undefined) => {
    if (!file) return
    const kind = evidenceKindOf(file)
    setStep({ is: 'sending', file, kind })
    const sent = await sendEvidence(file, kind)
    if ('sha' in sent) setStep({ is: 'kept', name: file.name.slice(0, 120), sent })
    else setStep(sent.status === null ? { is: 'lost', file, kind, words: sent.words } : { is: 'failed', words: sent.words })
  }
  const done = () => {
    renew()
    setStep({ is: 'empty' })
    setRound((before) => before + 1)
    again()
  }
  return (
    <details>
      <summary>Add a piece of evidence</summary>
      <CommandForm
        key={round}
        label="Evidence"
        pending={pending}
        refusal={refusal}
        run={async (form) => {
          const check = form.maybe('check')
          const words = form.text('words')
          if (step.is === 'lost' && step.kind === 'picture') {
            const small = await shrinkPhoto(step.file)
            if (small) layByPicture({ tag: view.tag, check: check ?? null, shown: 'a picture', words, photo: small })
            return small ? { id: '' } : undefined
          }
          const file =
            step.is === 'kept' ? { ...step.sent, name: step.name } : { kind: 'picture' as const, sha: '', ending: 'webp' as const }
          return run({ key, tag: view.tag, check, words, ...file })
        }}
        onDone={done}
      >
        <EvidenceField step={step} take={take} />
        <KeptInput
          name="file"
          value={step.is === 'kept' ? JSON.stringify({ name: step.name, sent: step.sent }) : ''}
          giveBack={(text) => setStep(text === '' ? { is: 'empty' } : { is: 'kept', ...(JSON.parse(text) as Arrived) })}
        />
        <SelectField
          name="check"
          label="Belongs to"
          options={[
            { value: '', label: 'The machine as a whole' },
            ...view.checks.map(({ key, title }) => ({ value: key, label: `${key} ${title}` })),
          ]}
        />
        <TextareaField
          name="words"
          label={step.is === 'kept' && step.sent.kind === 'firmware' ? 'Build notes' : 'What it shows'}
          hint="Of firmware: from which source and with which tools it was built. Shown with the piece, wherever that is shown."
          optional
          rows={3}
          maxLength={2000}
        />
        <div className="row">
          <SubmitButton kind="line">
            {step.is === 'lost' && step.kind === 'picture' ? 'Send it when there is a line' : 'Add it'}
          </SubmitButton>
        </div>
      </CommandForm>
    </details>
  )
}
