'use client'

import { useRouter } from 'next/navigation'
import { useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import type { FormValues } from '#app/_ui/forms/form-values.ts'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Flaw } from '#bench/designs/design.contract'
import type { TableChoice } from '#kernel/table-in'
import { ListField } from './list-field'
import { Reading } from './reading'

type ListName = Flaw['list']
type Sheet = { name: string; base64?: string; text?: string } & TableChoice
type Answer = Awaited<ReturnType<typeof api.designs.preview.mutate>>

const LISTS: { list: ListName; label: string; hint: string }[] = [
  {
    list: 'partsList',
    label: 'Parts list',
    hint: 'designators; and value, part, kind, package, rating, quantity, blocks, after, not fitted, substitutes, programmed, image, notes',
  },
  {
    list: 'checklist',
    label: 'Checklist',
    hint: 'stage, check, unit and limits (or lower and upper); and step, hold, kind, nominal, after, exercises, powered, minutes, stage kind, gates power, four eyes, frequency, hours, starts, plain, caution, expects',
  },
  {
    list: 'feeds',
    label: 'What feeds what',
    hint: 'from, to, kind (power or signal); and test point with expect: where the wire can be probed, and what is to be seen there. It may be left out of a machine with one block',
  },
]

/** First shows how the three lists were read; once nothing is wrong, the same button stores them. */
export function ImportForm() {
  const router = useRouter()
  const look = useCommand(api.designs.preview.mutate)
  const store = useCommand(api.designs.import.mutate)
  const files = useRef<Partial<Record<ListName, Sheet>>>({})
  const choices = useRef<Partial<Record<ListName, TableChoice>>>({})
  const [shown, setShown] = useState<{ of: string; lists: Record<ListName, Sheet>; answer: Answer } | null>(null)
  const isClean = shown?.answer.flaws.length === 0

  /** Another choice for one list: all are read again at once, so that what follows from it is seen. */
  const choose = async (list: ListName, choice: TableChoice) => {
    if (!shown) return
    choices.current[list] = choice
    const lists = { ...shown.lists, [list]: { ...shown.lists[list], ...choice } }
    const answer = await look.run(lists)
    if (answer) setShown({ of: JSON.stringify(lists), lists, answer })
  }

  const send = async (form: FormValues) => {
    const sheet = (list: ListName): Sheet => {
      const text = form.text(list)
      const source = text.trim() !== '' ? { name: 'pasted', text } : (files.current[list] ?? { name: '', text: '' })
      return { ...source, ...choices.current[list] }
    }
    const block = form.text('block').trim()
    const partsList = { ...sheet('partsList'), ...(block === '' ? {} : { block }) }
    const lists = { checklist: sheet('checklist'), partsList, feeds: sheet('feeds') }
    const of = JSON.stringify(lists)
    if (!isClean || shown?.of !== of) {
      store.forget()
      const answer = await look.run(lists)
      setShown(answer ? { of, lists, answer } : null)
      return undefined
    }
    const stored = await store.run({
      ...lists,
      key: form.text('key'),
      name: form.text('name'),
      revision: form.text('revision'),
      decisionRule: form.text('decisionRule') as 'simple',
      quirks: form.text('quirks'),
      cautions: form.text('cautions'),
    })
    if (stored) router.push(`/bench/designs/${stored.designId}`)
    return stored
  }
  return (
    <CommandForm label="Import" pending={look.pending || store.pending} refusal={look.refusal ?? store.refusal} run={send}>
      <TextField name="name" label="Name of the machine" width="short" />
      <TextField name="key" label="Short key" hint="Lower-case letters, digits and hyphens, such as saltmarsh-sr3." width="short" mono />
      <TextField name="revision" label="Revision" width="code" />
      <RadioGroup
        name="decisionRule"
        label="How readings are judged"
        defaultValue="simple"
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
      <TextareaField name="quirks" label="Known quirks" optional rows={2} />
      <TextareaField name="cautions" label="Cautions" optional rows={2} hint="Mains, cells, hot parts, volume: what can hurt." />
      {LISTS.map(({ list, label, hint }) => (
        <ListField
          key={list}
          list={list}
          label={label}
          hint={hint}
          onFile={(sheet) => {
            files.current[list] = sheet
            delete choices.current[list]
          }}
        />
      ))}
      <TextField
        name="block"
        label="Rows that name no block belong to"
        hint="The name of one block, where the parts list has no column for it."
        width="short"
        maxLength={80}
        optional
      />
      {shown &&
        LISTS.map(({ list, label }) => (
          <Reading
            key={list}
            list={list}
            label={label}
            answer={shown.answer}
            choice={choices.current[list] ?? {}}
            onChoose={(choice) => void choose(list, choice)}
            onMend={(choice) => {
              choices.current[list] = choice
            }}
          />
        ))}
      <SubmitButton>{isClean ? 'Store the design' : 'Show how it is read'}</SubmitButton>
    </CommandForm>
  )
}
