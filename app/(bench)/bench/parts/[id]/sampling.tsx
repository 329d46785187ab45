'use client'

import type { inferRouterOutputs } from '@trpc/server'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { RootRouter } from '#doors/trpc/root'
import { AQLS, type Aql, chanceToFind, LEVELS, type Level, samplingFor } from '#stock/shelf/sampling.rules'

type Card = inferRouterOutputs<RootRouter>['buildable']['part']['sampling'][number]

/** How far the testing of a batch is, what is believed of the rest, and the next ones to be tested. */
export function Sampling({ card, code, quantity }: { card: Card; code: string; quantity: number }) {
  const { plan, isEach, tested, bad, untested } = card
  return (
    <details open={plan?.verdict === 'going on' || undefined}>
      <summary>
        {tested === 0 ? 'None tested yet' : `${tested} tested, ${bad === 0 ? 'none bad' : `${bad} bad`}`}
        {plan?.verdict === 'going on' && `, ${plan.sample - tested} more by the plan`}
        {plan?.verdict === 'rejected' && ': more bad ones than the plan allows'}
        {plan?.verdict === 'accepted' && ': accepted by the plan'}
      </summary>
      <div className="stack close">
        {plan && (
          <p>
            By the plan (MIL-STD-105E, level {plan.level}, AQL {plan.aql}) <b>{plan.sample}</b> are tested, and{' '}
            {plan.accept === 0 ? 'none' : `at most ${plan.accept}`} may be bad.{' '}
            {plan.verdict === 'rejected' && 'Test all of them, or quarantine the batch.'}
          </p>
        )}
        {isEach && <p>Each has a tag and is inspected by itself: there is no sample of it.</p>}
        <Belief card={card} />
        {!isEach && !plan && tested === 0 && untested > 0 && <PlanForm batchId={card.batchId} code={code} quantity={quantity} />}
        {!isEach && untested > 0 && <TestForm batchId={card.batchId} code={code} />}
      </div>
    </details>
  )
}

/** What is known of those not tested: sentences with a chance in them. */
function Belief({ card: { tested, bad, untested, goodUntested, needed, toAskFor, small } }: { card: Card }) {
  if (untested === 0) return <p>All that is not fitted was tested.</p>
  return (
    <>
      {small && tested === 0 && (
        <p>
          If {small.bad === 1 ? 'one' : small.bad} of these {untested} were bad, testing {small.test} would find one with{' '}
          {Math.round(100 * chanceToFind(untested, Math.min(small.bad, untested), Math.min(small.test, untested)))} %.
        </p>
      )}
      <p>
        Of the {untested} not tested, at least <b>{goodUntested}</b> are good, with 90 %.{' '}
        <span className="small quiet">
          From {tested} tested with {bad} bad, if beforehand every share of bad ones was as likely as any other.
        </span>
      </p>
      {needed > 0 && (
        <p>
          Units still wait for {needed}.{' '}
          {toAskFor === 0
            ? 'With 90 % there are enough good ones here.'
            : toAskFor === null
              ? 'With so many bad ones no gift would be large enough: find another batch.'
              : `To have them from this batch alone with 90 %, ask for ${toAskFor} more, or test more of what is here.`}
        </p>
      )}
    </>
  )
}

function PlanForm({ batchId, code, quantity }: { batchId: string; code: string; quantity: number }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.shelf.fixSampling.mutate)
  const [level, setLevel] = useState<Level>('II')
  const [aql, setAql] = useState<Aql>('2.5')
  const sampling = samplingFor({ quantity, programmed: false, level, aql })
  const says =
    sampling.how === 'all'
      ? `So small a batch is tested whole: all ${quantity}.`
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
      <p role="status">{says}</p>
      {sampling.how === 'some' && <SubmitButton kind="line">Fix this plan</SubmitButton>}
    </CommandForm>
  )
}

function TestForm({ batchId, code }: { batchId: string; code: string }) {
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
      <PhotoField name="photoSha" label="Photograph" optional />
      <SubmitButton kind="line">Keep it</SubmitButton>
    </CommandForm>
  )
}
