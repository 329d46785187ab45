'use client'

import { useState } from 'react'
import { Chip } from '#app/_ui/chip.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { CHECKLIST_COLUMNS } from '#bench/designs/checklist.rules'
import type { Flaw } from '#bench/designs/design.contract'
import { FEEDS_COLUMNS } from '#bench/designs/feeds.rules'
import type { SheetReading } from '#bench/designs/import.rules'
import { PARTS_COLUMNS } from '#bench/designs/parts-columns.rules'
import type { TableChoice } from '#kernel/table-in'
import { ColumnChooser } from './column-chooser'
import { FlawsAlone } from './flaws-alone'
import { GuessedColumns } from './guessed-columns'
import { type Mend, MendRows } from './mend-rows'
import { UnderstoodRows } from './understood-rows'

export interface ReadingProps {
  list: Flaw['list']
  label: string
  answer: { sheets: SheetReading[]; flaws: Flaw[] }
  choice: TableChoice
  onChoose(choice: TableChoice): void
  /** Keeps what is mended for the next reading, without reading. */
  onMend(choice: TableChoice): void
}

const WANTED: Record<Flaw['list'], readonly string[]> = {
  partsList: PARTS_COLUMNS.map(({ name }) => name),
  checklist: CHECKLIST_COLUMNS.map(({ name }) => name),
  feeds: FEEDS_COLUMNS.map(({ name }) => name),
}

/** How one list was read: its columns, its flaws by line and column, and every row as it was understood. */
export function Reading({ list, label, answer, choice, onChoose, onMend }: ReadingProps) {
  const [mends, setMends] = useState<readonly Mend[]>(choice.mends ?? [])
  const [opened, setOpened] = useState<readonly number[]>([])
  const sheet = answer.sheets.find((one) => one.list === list)
  const flaws = answer.flaws.filter((flaw) => flaw.list === list)
  if (!sheet) return null
  const guessed = sheet.columns.filter(({ column, guess }) => column !== null && guess !== null)
  // Where there are no cells to mend there is a sentence alone.
  const toMend = sheet.rows.filter(
    ({ line, cells, written }) => cells && (written || opened.includes(line) || flaws.some((flaw) => flaw.line === line)),
  )
  const mendable = new Set(toMend.map(({ line }) => line))
  const alone = flaws.filter(({ line, column }) => !mendable.has(line) && !guessed.some((one) => one.column === column && line === 0))
  const put = (mend: Mend) => {
    const next = [...mends.filter(({ line, column }) => line !== mend.line || column !== mend.column), mend]
    setMends(next)
    onMend({ ...choice, mends: next })
  }
  const wrong = new Set(flaws.map(({ line }) => line))
  return (
    <section className="sheet stack" aria-label={`${label} as it was read`} role="status">
      <h2 className="row">
        {label}{' '}
        {flaws.length === 0 ? (
          <Chip tone="ok">{`${sheet.rows.length} rows read`}</Chip>
        ) : (
          <Chip tone="bad">{`${flaws.length} to correct`}</Chip>
        )}
      </h2>
      <GuessedColumns
        columns={sheet.columns}
        onConfirm={() => onChoose({ ...choice, hasHeading: sheet.hasHeading, columns: sheet.columns.map(({ column }) => column ?? '') })}
      />
      <ColumnChooser sheet={sheet} wanted={WANTED[list]} choice={choice} onChoose={onChoose} />
      {sheet.taken && sheet.taken.length > 0 && (
        <Notice tone={sheet.taken[0]?.startsWith('Nothing gates power') ? 'doubt' : 'info'} title="What the stages were taken to be">
          <ul>
            {sheet.taken.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
          <p className="small">
            Not so? Columns “stage kind” (visual, cold, rails, close-out or other) and “gates power” (y or n) say it row by row.
          </p>
        </Notice>
      )}
      <MendRows
        list={list}
        rows={toMend}
        flaws={flaws}
        mends={mends}
        onMend={put}
        onRead={() => onChoose({ ...choice, mends: [...mends] })}
      />
      <FlawsAlone flaws={alone} />
      <UnderstoodRows
        rows={sheet.rows}
        count={sheet.rows.length}
        isOpen={flaws.length === 0 && sheet.rows.length < 12}
        wrong={wrong}
        mendable={mendable}
        onMend={(line) => setOpened([...opened, line])}
      />
    </section>
  )
}
