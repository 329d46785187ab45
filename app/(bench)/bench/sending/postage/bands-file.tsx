'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField } from '#app/_ui/forms/text-fields.tsx'
import { SaveFile } from '#app/_ui/save-file.tsx'

/** The table out of a spreadsheet and into one. One wrong row keeps all of it out. */
export function BandsFile() {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.sending.importBands.mutate)
  const [taken, setTaken] = useState(0)
  const [text, setText] = useState('')
  return (
    <CommandForm
      label="As a file"
      pending={pending}
      refusal={refusal}
      run={() => run({ text })}
      onDone={({ rows }) => {
        setTaken(rows)
        setText('')
        router.refresh()
      }}
    >
      <div className="row">
        <SaveFile ask={() => api.sending.exportBands.query()}>Save the table (CSV)</SaveFile>
      </div>
      <label htmlFor="bands-file">A CSV file</label>
      <input
        id="bands-file"
        type="file"
        accept=".csv,.tsv,.txt,text/csv,text/plain"
        onChange={async (event) => setText((await event.currentTarget.files?.[0]?.text()) ?? '')}
      />
      <TextareaField
        name="text"
        label="or paste the rows with their heading"
        hint="zone, countries, up to grams, postage"
        rows={4}
        mono
        value={text}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <div className="row">
        <SubmitButton kind="line">Replace the table</SubmitButton>
        <span role="status">{taken > 0 ? `${taken} rows imported.` : ''}</span>
      </div>
    </CommandForm>
  )
}
