'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import type { Lists } from '#bench/designs/across.rules'
import type { DecisionRule } from '#bench/designs/design.contract'
import { ChecksEditor } from './checks-editor'
import { FeedsEditor } from './feeds-editor'
import styles from './revise.module.css'
import { TakeRows } from './take-rows'
import { type Draft, useDraft } from './use-draft'

export interface EditorProps {
  from: { id: string; revision: string; decisionRule: DecisionRule; quirks: string; cautions: string }
  initial: Draft
  parts: Lists['parts']
}

/** The checklist and the blocks as they will be in the next revision; what is wrong stands at its cell while it is written. */
export function Editor({ from, initial, parts }: EditorProps) {
  const router = useRouter()
  const { draft, reading, isKept, change, beginAnew, forget } = useDraft(from.id, initial, parts)
  const revise = useCommand(api.designs.revise.mutate)
  const blocks = reading.blocks
  const elsewhere = reading.flaws.filter(({ list, line }) => list === 'partsList' || line === 0)
  const refusal = revise.refusal && {
    words: revise.refusal.words,
    fields: Object.fromEntries(Object.entries(revise.refusal.fields).filter(([name]) => !/^(checklist|feeds|partsList)\b/.test(name))),
  }
  return (
    <>
      {isKept && (
        <Notice title="Your unfinished revision is back">
          <p>It is kept in this tab until you store it.</p>
          <button type="button" className="button-line" onClick={beginAnew}>
            Start again from revision {from.revision}
          </button>
        </Notice>
      )}
      <section className="sheet stack" aria-labelledby="what-feeds-what">
        <h2 id="what-feeds-what">What feeds what</h2>
        <FeedsEditor rows={draft.feeds} reading={reading} onChange={(rows) => change('feeds', rows)} />
        <TakeRows list="feeds" onRows={(rows) => change('feeds', rows)} />
      </section>
      <section className="sheet stack" aria-labelledby="checks">
        <h2 id="checks">Checklist</h2>
        <ChecksEditor rows={draft.checklist} reading={reading} blocks={blocks} onChange={(rows) => change('checklist', rows)} />
        <TakeRows list="checklist" onRows={(rows) => change('checklist', rows)} />
      </section>
      <section className="sheet act" aria-labelledby="store">
        <h2 id="store">Store it as the next revision</h2>
        <p role="status" className={styles.count}>
          {reading.flaws.length === 0
            ? `${reading.checks.length} checks over ${blocks.length} blocks, and nothing is wrong.`
            : `${reading.flaws.length === 1 ? 'One thing is' : `${reading.flaws.length} things are`} to be put right first.`}
        </p>
        {elsewhere.length > 0 && (
          <ul className={styles.flaws}>
            {elsewhere.map(({ list, line, words }) => (
              <li key={`${list} ${line} ${words}`}>
                {list === 'partsList' && `Parts list, line ${line}: `}
                {words}
              </li>
            ))}
          </ul>
        )}
        <CommandForm
          label="Next revision"
          pending={revise.pending}
          refusal={refusal}
          run={(form) =>
            revise.run({
              fromDesignId: from.id,
              revision: form.text('revision'),
              decisionRule: form.text('decisionRule') as DecisionRule,
              quirks: form.text('quirks'),
              cautions: form.text('cautions'),
              checklist: draft.checklist,
              feeds: draft.feeds,
            })
          }
          onDone={(stored) => {
            forget()
            if (stored) router.push(`/bench/designs/${stored.designId}`)
          }}
        >
          <TextField name="revision" label="Revision" hint={`After ${from.revision}, such as D or 1.3.`} width="code" />
          <RadioGroup
            name="decisionRule"
            label="How readings are judged"
            defaultValue={from.decisionRule}
            choices={[
              { value: 'simple', label: 'Simple', hint: 'Within the limits is a pass.' },
              { value: 'guarded', label: 'Guarded', hint: 'The limits are tightened by the doubt of the instrument.' },
              {
                value: 'guarded-with-doubt',
                label: 'Guarded with doubt',
                hint: 'Four answers: pass, pass within doubt, fail within doubt, fail.',
              },
            ]}
          />
          <TextareaField name="quirks" label="Known quirks" optional rows={2} defaultValue={from.quirks} />
          <TextareaField
            name="cautions"
            label="Cautions"
            optional
            rows={2}
            defaultValue={from.cautions}
            hint="Mains, cells, hot parts, volume: what can hurt."
          />
          <SubmitButton>Store the revision</SubmitButton>
        </CommandForm>
      </section>
    </>
  )
}
