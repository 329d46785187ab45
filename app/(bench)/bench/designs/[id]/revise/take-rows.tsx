'use client'

import { useRef } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField } from '#app/_ui/forms/text-fields.tsx'
import type { Cells } from '#bench/designs/written.rules'

/** Takes all rows of a list from a CSV file or from pasted text, in place of those above. */
export function TakeRows({ list, onRows }: { list: 'checklist' | 'feeds'; onRows(rows: Cells[]): void }) {
  const { run, pending, refusal } = useCommand(api.designs.readRows.mutate)
  const file = useRef<HTMLInputElement>(null)
  return (
    <details>
      <summary>Read the rows from a CSV file</summary>
      <CommandForm
        label={`Rows of the ${list}`}
        pending={pending}
        refusal={refusal}
        emptyWhenDone
        run={async (form) => {
          const chosen = file.current?.files?.[0]
          const text = form.text('sheet')
          const sheet = chosen && text.trim() === '' ? { name: chosen.name, base64: await asBase64(chosen) } : { name: 'pasted', text }
          return run({ list, sheet })
        }}
        onDone={(rows) => rows && onRows(rows)}
      >
        <p className="small">
          They replace all the rows above, and nothing is stored yet. The heading names the columns; a file from “Save as CSV” can be read
          back unchanged.
        </p>
        <label>
          File <input ref={file} type="file" accept=".csv,text/csv,text/plain" />
        </label>
        <TextareaField name="sheet" label="Or paste the rows with their heading" optional rows={3} mono />
        <SubmitButton kind="line">Use these rows</SubmitButton>
      </CommandForm>
    </details>
  )
}

async function asBase64(file: File): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer())
  let text = ''
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192))
  return btoa(text)
}
