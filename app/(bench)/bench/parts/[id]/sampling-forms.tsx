'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { AQLS, type Aql, LEVELS, type Level, samplingFor } from '#stock/shelf/sampling.rules'
import { PlanCurve } from './plan-picture'

/** How many of a batch are to be tested, fixed before the first is. */
export function PlanForm({ batchId, code, quantity }: { batchId: string; code: string; quantity: number }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.shelf.fixSampling.mutate)
  const [level, setLevel] = useState<Level>('II')
  const [aql, setAql] = useState<Aql>('2.5')
  const sampling = samplingFor({ quantity, programmed: false, level, aql })
  const says =
    sampling.how === 'all'
      ? `A batch this small is tested in full: all ${quantity}.`
      : `Test ${sampling.sample} of ${quantity}; ${sampling.accept === 0 ? 'none' : `at most ${sampling.accept}`} may be bad.`
  return (
    <CommandForm
      label={`Plan for ${code}`}
      run={() => run({ batchId, level, aql })}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
    >
      <SelectField
        name="aql"
        label="How many bad ones in a hundred are acceptable?"
        value={aql}
        onChange={(event) => setAql(AQLS.find((one) => one === event.currentTarget.value) ?? '2.5')}
        options={AQLS.map((one) => ({ value: one, label: one }))}
      />
      <SelectField
        name="level"
        label="Level"
        hint="II is the usual one; I tests fewer, III more."
        value={level}
        onChange={(event) => setLevel(LEVELS.find((one) => one === event.currentTarget.value) ?? 'II')}
        options={LEVELS.map((one) => ({ value: one, label: one }))}
      />
      <p role="status">{says} Draw them at random: the numbers to draw by are given once the plan is fixed.</p>
      {sampling.how === 'some' && <PlanCurve quantity={quantity} plan={sampling} />}
      {sampling.how === 'some' && <SubmitButton kind="line">Fix this plan</SubmitButton>}
    </CommandForm>
  )
}

/** What was tested now, and with what. */
export function TestForm({ batchId, code }: { batchId: string; code: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.shelf.testBatch.mutate)
  const [round, setRound] = useState(0)
  return (
    <CommandForm
      key={round}
      label={`Tested of ${code}`}
      run={(form) =>
        run({
          batchId,
          tested: form.text('tested'),
          bad: form.text('bad'),
          reader: form.text('reader'),
          symptom: form.text('symptom'),
          photoSha: form.text('photoSha'),
          figures: form.text('figures'),
          unit: form.text('unit'),
        })
      }
      pending={pending}
      refusal={refusal}
      onDone={() => {
        setRound(round + 1)
        router.refresh()
      }}
    >
      <TextField name="tested" label="How many were tested now?" inputMode="numeric" width="code" />
      <TextField name="bad" label="How many of them are bad?" inputMode="numeric" width="code" defaultValue="0" />
      <TextField name="reader" label="With what?" hint="Meter, bridge, or by eye." maxLength={120} />
      <TextField name="symptom" label="What was seen on the bad ones" optional maxLength={500} />
      <details>
        <summary>What they measured</summary>
        <div className="stack">
          <TextareaField
            name="figures"
            label="Figures"
            hint="One for each piece, with a space between: 99.8 100.2 101."
            optional
            rows={2}
            mono
          />
          <TextField name="unit" label="Unit" hint="Such as kΩ." optional width="code" maxLength={12} />
        </div>
      </details>
      <PhotoField name="photoSha" label="Photograph" optional />
      <SubmitButton kind="line">Save the result</SubmitButton>
    </CommandForm>
  )
}
