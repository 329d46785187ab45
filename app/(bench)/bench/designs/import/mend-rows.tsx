'use client'

import { useState } from 'react'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { TextButton } from '#app/_ui/text-button.tsx'
import type { SheetRow } from '#bench/designs/import.rules'
import type { TableFlaw } from '#kernel/table'
import styles from './import.module.css'

export interface Mend {
  line: number
  column: string
  text: string
}

export interface MendRowsProps {
  list: string
  rows: readonly SheetRow[]
  flaws: readonly TableFlaw[]
  mends: readonly Mend[]
  onMend(mend: Mend): void
  onRead(): void
}

/** So many rows stand open at once; the next ones come when these are read. */
const AT_ONCE = 40

/** Each row with its cells as they were read, to be written as they are meant. The file stays as it is. */
export function MendRows({ list, rows, flaws, mends, onMend, onRead }: MendRowsProps) {
  const shown = rows.slice(0, AT_ONCE)
  if (shown.length === 0) return null
  return (
    <fieldset className={styles.list}>
      <legend>Rows to mend</legend>
      <p className="small quiet">Write what is meant; the file itself stays as it is, and nothing is stored yet.</p>
      <ol className={styles.mends}>
        {shown.map((row) => (
          <li key={row.line}>
            <MendRow list={list} row={row} flaws={flaws.filter(({ line }) => line === row.line)} mends={mends} onMend={onMend} />
          </li>
        ))}
      </ol>
      {rows.length > AT_ONCE && <p className="small quiet">And {rows.length - AT_ONCE} more rows, which follow once these are read.</p>}
      <div className="row">
        <button type="button" className="button-line" onClick={onRead}>
          Read again with what is mended
        </button>
      </div>
    </fieldset>
  )
}

interface MendRowProps extends Pick<MendRowsProps, 'list' | 'flaws' | 'mends' | 'onMend'> {
  row: SheetRow
}

function MendRow({ list, row: { line, understood, hint, cells = {}, written = {} }, flaws, mends, onMend }: MendRowProps) {
  const [isWhole, setWhole] = useState(flaws.length === 0)
  const wrong = new Set(flaws.map(({ column }) => column))
  const columns = Object.keys(cells).filter((column) => isWhole || wrong.has(column) || written[column] !== undefined)
  const typed = (column: string) => mends.find((mend) => mend.line === line && mend.column === column)?.text ?? cells[column] ?? ''
  const elsewhere = flaws.filter(({ column }) => !columns.includes(column))
  return (
    <section aria-label={`Line ${line}`} className={styles.mend}>
      <p>
        <b>Line {line}</b> <span className="small quiet">{understood}</span>
      </p>
      {hint && <p className="small">{hint}</p>}
      {elsewhere.map(({ words }) => (
        <p key={words} className={styles.wrong}>
          {words}
        </p>
      ))}
      <div className={styles.cells}>
        {columns.map((column) => (
          <TextField
            key={`${column} ${cells[column]}`}
            name={`${list}-${line}-${column}`}
            label={column}
            width="short"
            mono
            maxLength={600}
            defaultValue={typed(column)}
            hint={written[column] === undefined ? undefined : `In the file: ${written[column] || 'nothing'}`}
            {...errorOf(flaws, column)}
            onChange={(event) => onMend({ line, column, text: event.currentTarget.value })}
          />
        ))}
      </div>
      {!isWhole && (
        <p className="small">
          <TextButton press={() => setWhole(true)}>All cells of line {line}</TextButton>
        </p>
      )}
    </section>
  )
}

function errorOf(flaws: readonly TableFlaw[], column: string): { error?: string } {
  const words = flaws.filter((flaw) => flaw.column === column).map((flaw) => flaw.words)
  return words.length > 0 ? { error: words.join(' ') } : {}
}
