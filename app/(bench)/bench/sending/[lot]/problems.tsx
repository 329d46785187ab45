'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CheckField, RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { ProblemTalk } from '#app/_ui/problem-talk.tsx'
import { showMoney } from '#kernel/money'
import type { Role } from '#kernel/role'
import type { ProblemEnd, ProblemView, SendingView } from '#money/sending/sending.contract'

/** What the buyer reported, with its clock; the answer, and how it ends. */
export function Problems({ view, role }: { view: SendingView; role: Role }) {
  return (
    <section id="problems" className="stack" aria-label="Problems">
      {view.problems.map((problem) => (
        <div key={problem.id} className={problem.endedAt === null ? 'sheet act stack' : 'sheet stack'}>
          <ProblemTalk problem={problem} zone={view.zone} currency={view.currency} reader="staff" />
          {problem.endedAt === null && (
            <>
              <Answer problem={problem} />
              <details>
                <summary>Close the case</summary>
                <EndForm problem={problem} view={view} role={role} />
              </details>
            </>
          )}
        </div>
      ))}
    </section>
  )
}

function Answer({ problem }: { problem: ProblemView }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.sending.answer.mutate)
  return (
    <CommandForm
      label="Answer"
      pending={pending}
      refusal={refusal}
      emptyWhenDone
      run={async (form) => (await run({ key, problemId: problem.id, words: form.text('words'), photoSha: form.maybe('photoSha') })) ?? null}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <TextareaField name="words" label="Your answer" rows={3} hint="It is emailed to the buyer and shown on their page." />
      <PhotoField name="photoSha" label="A photograph" optional hint="The buyer sees it on their page." />
      <div>
        <SubmitButton>Answer</SubmitButton>
      </div>
    </CommandForm>
  )
}

function EndForm({ problem, view, role }: { problem: ProblemView; view: SendingView; role: Role }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.sending.endProblem.mutate)
  const [ends, setEnds] = useState<ProblemEnd>('explained')
  const [isWhole, setWhole] = useState(false)
  const mayRefund = role === 'maker' || role === 'treasurer'
  return (
    <CommandForm
      label="Close the case"
      pending={pending}
      refusal={refusal}
      run={(form) =>
        run({
          key,
          problemId: problem.id,
          as: ends,
          words: form.text('words'),
          amount: form.text('amount'),
          isWhole,
          reference: form.text('reference'),
          hasGoneBack: form.ticked('hasGoneBack'),
        })
      }
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <RadioGroup
        name="as"
        label="How it was settled"
        defaultValue={ends}
        onChoose={(value) => setEnds(value as ProblemEnd)}
        choices={[
          { value: 'explained', label: 'It was explained' },
          { value: 'replaced', label: 'A part was replaced' },
          ...(mayRefund ? [{ value: 'refunded', label: 'Money is refunded' }] : []),
        ]}
      />
      {ends === 'refunded' && (
        <>
          <CheckField
            name="isWhole"
            label="The whole sale is undone and the machine comes back"
            hint={`All of the ${showMoney(view.receivedMinor, view.currency)} that was paid is owed back.`}
            onCheck={setWhole}
          />
          {!isWhole && (
            <MoneyField name="amount" label="How much is refunded" currency={view.currency} hint="The price is reduced by that much." />
          )}
          <CheckField name="hasGoneBack" label="The money has already left the bank" hint="Otherwise the books show it as owed back." />
          <TextField name="reference" label="Reference on the bank statement" optional mono />
        </>
      )}
      <TextareaField name="words" label="What was done, for the buyer to read" rows={3} />
      <div>
        <SubmitButton>Close it</SubmitButton>
      </div>
    </CommandForm>
  )
}
