'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CheckField, RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import type { FormValues } from '#app/_ui/forms/form-values.ts'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { readDesignators } from '#stock/catalogue/designator.rules'
import styles from './rework-sheet.module.css'
import { sourcesFor } from './sources'
import type { Choices, Preview } from './types'

export interface ReworkSheetProps {
  view: BringupView
  choices: Choices
  seen: string
  /** The check that failed, if one has. */
  failed: string | null
  /** Closed at first: on a page where the search comes before the cure. */
  folded?: boolean
  again(): void
}

/** What was wrong and what was changed; what that undoes is shown before it is entered. */
export function ReworkSheet({ view, choices, seen, failed, folded = false, again }: ReworkSheetProps) {
  const { key, renew } = useFormKey()
  const rework = useCommand(api.bringup.rework.mutate)
  const look = useCommand(api.bringup.previewRework.query)
  const [at, setAt] = useState('')
  const [what, setWhat] = useState('touched')
  const [preview, setPreview] = useState<{ of: string; shows: Preview } | null>(null)
  const designators = at.trim() === '' ? [] : readDesignators(at).designators
  const sources = sourcesFor(view, choices, designators[0]).list
  const read = (form: FormValues) => {
    const reason = what === 'touched' ? '' : form.text('fault')
    const source = form.text('source')
    const into = what !== 'swapped' || source === '' ? {} : source.startsWith('P-') ? { inPieceTag: source } : { inBatchId: source }
    const changes = designators.map((designator) => ({ designator, outReason: reason, outIsBad: form.ticked('outIsBad'), ...into }))
    return { tag: view.tag, iron: form.ticked('iron'), changes, blocks: form.list('blocks').filter(Boolean) }
  }
  return (
    <section className="sheet" aria-labelledby="rework">
      <details open={(failed !== null && !folded) || undefined}>
        <summary>
          <h2 id="rework">Enter a rework</h2>
        </summary>
        <CommandForm
          label="Rework"
          pending={rework.pending || look.pending}
          refusal={rework.refusal ?? look.refusal}
          run={async (form) => {
            const content = read(form)
            const of = JSON.stringify(content)
            if (preview?.of !== of) {
              rework.forget()
              const shows = await look.run(content)
              if (shows) setPreview({ of, shows })
              return undefined
            }
            const done = await rework.run({
              ...content,
              key,
              seen,
              fault: form.text('fault'),
              changed: form.text('changed'),
              ...(failed ? { failedCheck: failed } : {}),
            })
            if (!done) return undefined
            renew()
            setPreview(null)
            setAt('')
            again()
            return done
          }}
        >
          {failed !== null && (
            <p>
              After <b className="code">{failed}</b> failed.
            </p>
          )}
          <TextField name="fault" label="What was wrong" />
          <TextField name="changed" label="What was changed to mend it" hint="As it should read on the record, such as: Q4 replaced." />
          <TextField
            name="changes"
            label="Positions"
            hint="Such as Q4, or R1-R4."
            mono
            value={at}
            onChange={(event) => setAt(event.currentTarget.value)}
          />
          <RadioGroup
            name="what"
            label="What became of what was there"
            defaultValue="touched"
            onChoose={setWhat}
            choices={[
              { value: 'touched', label: 'It stayed: a joint, a wire, a setting' },
              { value: 'swapped', label: 'It was swapped for another' },
              { value: 'removed', label: 'It came out, and the position is empty' },
            ]}
          />
          {what === 'swapped' && (
            <SelectField
              name="source"
              label="What went in"
              options={
                sources.length > 0
                  ? sources
                  : [{ value: '', label: designators.length > 0 ? 'None of this part is in hand' : 'Name the position first' }]
              }
            />
          )}
          {what !== 'touched' && (
            <CheckField name="outIsBad" label="What came out is bad and must not go into another unit" defaultChecked />
          )}
          <CheckField name="iron" label="An iron was used" defaultChecked />
          <SelectField
            name="blocks"
            label="Any other block that was touched"
            optional
            options={[{ value: '', label: 'None' }, ...view.design.blocks.map((block) => ({ value: block, label: block }))]}
          />
          {preview && <WhatItUndoes preview={preview.shows} certificate={view.certificate} />}
          <SubmitButton kind={preview ? 'bad' : 'line'}>{preview ? 'Enter the rework' : 'Show what it undoes'}</SubmitButton>
        </CommandForm>
      </details>
    </section>
  )
}

function WhatItUndoes({ preview, certificate }: { preview: Preview; certificate: string | null }) {
  return (
    <div className={styles.undoes} role="status">
      <h3>{preview.undone.length === 0 ? 'It undoes no current reading.' : `It undoes ${preview.undone.length} readings:`}</h3>
      <ul>
        {preview.undone.map(({ check, title, why }) => (
          <li key={check}>
            <span className="code">{check}</span> {title}: {why}
          </li>
        ))}
      </ul>
      {certificate !== null && preview.undone.length > 0 && <p>Certificate {certificate} is withdrawn, and an open lot goes on hold.</p>}
    </div>
  )
}
