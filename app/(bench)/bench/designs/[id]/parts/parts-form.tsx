'use client'

import { useRouter } from 'next/navigation'
import { useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import type { FormValues } from '#app/_ui/forms/form-values.ts'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { ListField } from '#app/(bench)/bench/designs/import/list-field.tsx'
import { Reading } from '#app/(bench)/bench/designs/import/reading.tsx'
import type { PartsListChoice } from '#bench/designs/design.contract'

type Sheet = { name: string; base64?: string; text?: string } & PartsListChoice
type Answer = Awaited<ReturnType<typeof api.designs.previewParts.mutate>>

/** A parts list alone: first it is shown how it was read, then the same button stores it. */
export function PartsForm({ designId, revision, blocks }: { designId: string; revision: string; blocks: readonly string[] }) {
  const router = useRouter()
  const look = useCommand(api.designs.previewParts.mutate)
  const store = useCommand(api.designs.importParts.mutate)
  const file = useRef<Sheet | undefined>(undefined)
  const choice = useRef<PartsListChoice>({})
  const [shown, setShown] = useState<{ sheet: Sheet; answer: Answer } | null>(null)
  const [outcome, setOutcome] = useState<string | null>(null)
  const isClean = shown?.answer.flaws.length === 0

  const read = async (sheet: Sheet) => {
    const answer = await look.run({ designId, partsList: sheet })
    setShown(answer ? { sheet, answer } : null)
  }
  const send = async (form: FormValues) => {
    const text = form.text('partsList')
    const source = text.trim() !== '' ? { name: 'pasted', text } : (file.current ?? { name: '', text: '' })
    const block = form.text('block')
    const sheet: Sheet = { ...source, ...(block === '' ? {} : { block }), ...choice.current }
    setOutcome(null)
    if (!isClean || JSON.stringify(shown?.sheet) !== JSON.stringify(sheet)) {
      store.forget()
      await read(sheet)
      return undefined
    }
    const stored = await store.run({ designId, partsList: sheet, revision: form.text('revision') })
    if (!stored) return undefined
    if (stored.designId === designId) {
      setOutcome(stored.outcome === 'unchanged' ? 'This list is the same as before. Nothing was changed.' : 'The list is stored.')
      router.refresh()
    } else router.push(`/bench/designs/${stored.designId}/parts`)
    return stored
  }
  return (
    <CommandForm label="New parts list" pending={look.pending || store.pending} refusal={look.refusal ?? store.refusal} run={send}>
      <ListField
        list="partsList"
        label="Parts list"
        hint="designators; and value, part, kind, package, rating, quantity, blocks, after, not fitted, substitutes, programmed, image, notes"
        onFile={(sheet) => {
          file.current = sheet
          choice.current = {}
        }}
      />
      <SelectField
        name="block"
        label="Rows that name no block belong to"
        options={[{ value: '', label: 'nothing: they are errors' }, ...blocks.map((block) => ({ value: block, label: block }))]}
      />
      <TextField
        name="revision"
        label="Revision"
        hint="A revision that units are being built to stays as it is; a new one gets the same checklist and feeds."
        width="code"
        defaultValue={revision}
        maxLength={20}
      />
      {shown && (
        <Reading
          list="partsList"
          label="Parts list"
          answer={shown.answer}
          choice={choice.current}
          onChoose={(next) => {
            choice.current = next
            void read({ ...shown.sheet, ...next })
          }}
          onMend={(next) => {
            choice.current = next
          }}
        />
      )}
      {outcome && (
        <Notice tone="ok" live="status">
          <p>{outcome}</p>
        </Notice>
      )}
      <SubmitButton>{isClean ? 'Store the parts list' : 'Show how it is read'}</SubmitButton>
    </CommandForm>
  )
}
