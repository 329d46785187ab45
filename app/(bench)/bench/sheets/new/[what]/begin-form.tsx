'use client'

import { useRouter } from 'next/navigation'
import { useRef } from 'react'
import { api } from '#app/_trpc/client.ts'
import { Unable, useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { ListField } from '#app/(bench)/bench/designs/import/list-field.tsx'
import { MOST_SHEET_KB, type SheetWhat } from '#gifts/sheets/sheets.contract'

/** A file, or rows that were pasted, sent once; how it reads stands on the page that follows. */
export function BeginForm({ what, columns }: { what: SheetWhat; columns: string }) {
  const router = useRouter()
  const file = useRef<{ name: string; base64: string } | undefined>(undefined)
  const begin = useCommand((sheet: Parameters<typeof api.sheets.begin.mutate>[0]) => {
    if ((sheet.base64?.length ?? 0) > (MOST_SHEET_KB * 4000) / 3)
      throw new Unable(
        `This file has more than ${MOST_SHEET_KB} kB. Is it the right one? Save the one sheet that matters as CSV, or bring it in parts.`,
      )
    return api.sheets.begin.mutate(sheet)
  })
  return (
    <CommandForm
      label="A spreadsheet"
      pending={begin.pending}
      refusal={begin.refusal}
      run={(form) => {
        const text = form.text('text')
        return begin.run({ what, ...(text.trim() !== '' ? { name: 'pasted', text } : (file.current ?? { name: '' })) })
      }}
      onDone={({ id }) => router.push(`/bench/sheets/${id}`)}
    >
      <ListField
        list="text"
        label="Your sheet"
        hint={columns}
        accept=".csv,.tsv,.txt,.xlsx,.ods,text/csv,text/plain"
        onFile={(sheet) => {
          file.current = sheet
        }}
      />
      <SubmitButton waiting="Reading it">Show how it is read</SubmitButton>
    </CommandForm>
  )
}
