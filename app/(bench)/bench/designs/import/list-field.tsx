'use client'

import { TextareaField } from '#app/_ui/forms/text-fields.tsx'
import styles from './import.module.css'

export interface ListFieldProps {
  list: string
  label: string
  hint: string
  onFile(sheet: { name: string; base64: string } | undefined): void
}

/** A file, or the rows pasted. What is pasted is taken where both are given. */
export function ListField({ list, label, hint, onFile }: ListFieldProps) {
  const choose = async (file: File | undefined) => {
    if (!file) return onFile(undefined)
    const bytes = new Uint8Array(await file.arrayBuffer())
    let binary = ''
    for (const byte of bytes) binary += String.fromCharCode(byte)
    onFile({ name: file.name.slice(0, 200), base64: btoa(binary) })
  }
  return (
    <fieldset className={styles.list}>
      <legend>{label}</legend>
      <p className="small quiet">Columns: {hint}.</p>
      <label htmlFor={`file-${list}`}>File</label>
      <input
        id={`file-${list}`}
        type="file"
        accept=".csv,.tsv,.txt,text/csv,text/plain"
        onChange={(event) => void choose(event.currentTarget.files?.[0])}
      />
      <TextareaField name={list} label="or paste the rows with their heading" rows={4} mono />
    </fieldset>
  )
}
