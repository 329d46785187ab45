'use client'

import { useState } from 'react'
import { KeptInput } from '#app/_ui/forms/kept-input.tsx'
import { TextareaField } from '#app/_ui/forms/text-fields.tsx'
import styles from './import.module.css'

export interface ListFieldProps {
  list: string
  label: string
  hint: string
  /** Kinds of file, where more than tables as text are read. */
  accept?: string
  onFile(sheet: Sheet | undefined): void
}

interface Sheet {
  name: string
  base64: string
}

/** A file, or the rows pasted. What is pasted is taken where both are given. */
export function ListField({ list, label, hint, accept = '.csv,.tsv,.txt,text/csv,text/plain', onFile }: ListFieldProps) {
  const [chosen, setChosen] = useState<Sheet | null>(null)
  const take = (sheet: Sheet | null) => {
    setChosen(sheet)
    onFile(sheet ?? undefined)
  }
  const choose = async (file: File | undefined) => {
    if (!file) return take(null)
    const bytes = new Uint8Array(await file.arrayBuffer())
    let binary = ''
    for (const byte of bytes) binary += String.fromCharCode(byte)
    take({ name: file.name.slice(0, 200), base64: btoa(binary) })
  }
  return (
    <fieldset className={styles.list}>
      <legend>{label}</legend>
      <p className="small quiet">Columns: {hint}.</p>
      <label htmlFor={`file-${list}`}>File</label>
      <input id={`file-${list}`} type="file" accept={accept} onChange={(event) => void choose(event.currentTarget.files?.[0])} />
      <KeptInput
        name={`${list}File`}
        value={chosen ? JSON.stringify(chosen) : ''}
        giveBack={(text) => take(text === '' ? null : (JSON.parse(text) as Sheet))}
      />
      <p className="small" role="status">
        {chosen && `${chosen.name} is chosen.`}
      </p>
      <TextareaField name={list} label="or paste the rows with their heading" rows={4} mono />
    </fieldset>
  )
}
