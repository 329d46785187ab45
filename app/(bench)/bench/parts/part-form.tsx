'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckboxGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PART_KINDS, type PartKind } from '#stock/catalogue/part.contract'
import { readPart, unitOfKind } from '#stock/catalogue/part.rules'

/** A catalogue entry. What is typed as a value is read back at once, in the words that the house will keep. */
export function PartForm() {
  const router = useRouter()
  const [kind, setKind] = useState<PartKind>('resistor')
  const [value, setValue] = useState('')
  const [added, setAdded] = useState<{ id: string; words: string; isNew: boolean; hint: string | null } | null>(null)
  const { run, pending, refusal } = useCommand(api.parts.add.mutate)
  const reading = readPart({ kind, name: kind, value })
  const understood =
    value.trim() === '' || unitOfKind(kind) === undefined
      ? undefined
      : reading.ok
        ? `Read as ${reading.value}. ${reading.hint ?? ''}`
        : reading.words
  return (
    <>
      {added && (
        <Notice tone={added.hint ? 'doubt' : 'ok'} live="status" title={added.isNew ? 'Added' : 'It is already in the catalogue'}>
          <p>
            <Link href={`/bench/parts/${added.id}`}>{added.words}</Link>
            {added.hint && `. ${added.hint}`}
          </p>
        </Notice>
      )}
      <CommandForm
        run={(form) => {
          const traits = form.list('traits')
          const imageSha256 = form.maybe('imageSha256')
          const idcode = form.maybe('idcode')
          return run({
            kind,
            name: form.text('name'),
            value,
            package: form.text('package'),
            rating: form.text('rating'),
            programmed: traits.includes('programmed'),
            socketed: traits.includes('socketed'),
            hardToFind: traits.includes('hardToFind'),
            ...(imageSha256 === undefined ? {} : { imageSha256 }),
            ...(idcode === undefined ? {} : { idcode }),
          })
        }}
        pending={pending}
        refusal={refusal}
        onDone={({ part, isNew, hint }) => {
          setAdded({ id: part.id, words: part.words, isNew, hint })
          setValue('')
          router.refresh()
        }}
        emptyWhenDone
        label="A part"
      >
        <SelectField
          name="kind"
          label="Kind"
          value={kind}
          onChange={(event) => setKind(event.currentTarget.value as PartKind)}
          options={PART_KINDS.map((each) => ({ value: each, label: each }))}
        />
        <TextField
          name="name"
          label="Name or type number"
          hint="For a measured part its technology, such as carbon film or C0G."
          maxLength={120}
        />
        <TextField
          name="value"
          label="Value"
          hint={understood ?? 'As written on it: 4k7, 100 nF, 104, 10 µH.'}
          optional
          width="short"
          value={value}
          onChange={(event) => setValue(event.currentTarget.value)}
          maxLength={40}
        />
        <TextField name="package" label="Package" optional width="short" maxLength={60} />
        <TextField
          name="rating"
          label="Rating"
          hint="Such as 0.25 W or 63 V, 1 %. With the name it tells parts apart."
          optional
          width="short"
          maxLength={60}
        />
        <CheckboxGroup
          name="traits"
          label="Is it any of these?"
          choices={[
            { value: 'programmed', label: 'Programmed', hint: 'Each one gets a tag and is read before it is fitted.' },
            { value: 'socketed', label: 'Socketed' },
            { value: 'hardToFind', label: 'Hard to find' },
          ]}
        />
        <details>
          <summary>Image and identification code</summary>
          <div className="stack">
            <TextField name="imageSha256" label="SHA-256 of the image it must hold" optional mono maxLength={64} />
            <TextField
              name="idcode"
              label="Identification code"
              hint="As the device reports it, such as 0x1ba02093."
              optional
              mono
              width="short"
            />
          </div>
        </details>
        <SubmitButton kind="line">Add the part</SubmitButton>
      </CommandForm>
    </>
  )
}
