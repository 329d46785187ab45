'use client'

import { Notice } from '#app/_ui/notice.tsx'
import type { Table } from '#kernel/table'

export interface GuessedColumnsProps {
  columns: Table['columns']
  /** All of them are what they were guessed to be. */
  onConfirm(): void
}

/** What columns were guessed to be, to be confirmed before anything is stored. */
export function GuessedColumns({ columns, onConfirm }: GuessedColumnsProps) {
  const guessed = columns.filter(({ column, guess }) => column !== null && guess !== null)
  if (guessed.length === 0) return null
  return (
    <Notice tone="doubt" title="Is it so?">
      <ul>
        {guessed.map(({ heading, column, guess }) => (
          <li key={heading}>
            “{heading}” was taken for the {column}: {guess}.
          </li>
        ))}
      </ul>
      <p>
        <button type="button" className="button-line" onClick={onConfirm}>
          Yes, it is so
        </button>{' '}
        Otherwise choose below what each column is.
      </p>
    </Notice>
  )
}
