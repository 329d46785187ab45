'use client'

import { useState } from 'react'
import { Chip } from '#app/_ui/chip.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { TextButton } from '#app/_ui/text-button.tsx'
import { CHECKLIST_COLUMNS } from '#bench/designs/checklist.rules'
import type { Flaw } from '#bench/designs/design.contract'
import { FEEDS_COLUMNS } from '#bench/designs/feeds.rules'
import type { SheetReading } from '#bench/designs/import.rules'
import { PARTS_COLUMNS } from '#bench/designs/parts-columns.rules'
import type { TableChoice } from '#kernel/table-in'
import { ColumnChooser } from './column-chooser'
import styles from './import.module.css'
import { type Mend, MendRows } from './mend-rows'

/** Rows beyond these are counted only: a browser need not draw five thousand of them. */
const MOST_SHOWN = 400

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
  const asked = sheet.rows.filter(({ hint }) => hint).length
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
      {guessed.length > 0 && (
        <Notice tone="doubt" title="Is it so?">
          <ul>
            {guessed.map(({ heading, column, guess }) => (
              <li key={heading}>
                “{heading}” was taken for the {column}: {guess}.
              </li>
            ))}
          </ul>
          <p>
            <button
              type="button"
              className="button-line"
              onClick={() =>
                onChoose({ ...choice, hasHeading: sheet.hasHeading, columns: sheet.columns.map(({ column }) => column ?? '') })
              }
            >
              Yes, it is so
            </button>{' '}
            Otherwise choose below what each column is.
          </p>
        </Notice>
      )}
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
      {alone.length > 0 && (
        <table className="cards">
          <caption>What to correct</caption>
          <thead>
            <tr>
              <th scope="col" className="num">
                Line
              </th>
              <th scope="col">Column</th>
              <th scope="col">What to do</th>
            </tr>
          </thead>
          <tbody>
            {alone.map(({ line, column, words }) => (
              <tr key={`${line} ${column} ${words}`} className={styles.flaw}>
                <td className="num" data-label="Line">
                  {line || '·'}
                </td>
                <td data-label="Column">{column || '·'}</td>
                <td data-label="What to do">{words}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {sheet.rows.length > 0 && (
        <details open={flaws.length === 0 && sheet.rows.length < 12 ? true : undefined}>
          <summary>
            Every row as it was understood
            {asked > 0 && `, ${asked} with a question`}
          </summary>
          <table>
            <thead>
              <tr>
                <th scope="col" className="num">
                  Line
                </th>
                <th scope="col">Understood</th>
                <th scope="col">
                  <span className="visually-hidden">Mend</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {sheet.rows.slice(0, MOST_SHOWN).map(({ line, understood, hint, cells }) => (
                <tr key={line} className={wrong.has(line) ? styles.flaw : undefined}>
                  <td className="num">{line}</td>
                  <td>
                    {understood}
                    {hint && <b className="small"> {hint}</b>}
                  </td>
                  <td>
                    {cells && !mendable.has(line) && (
                      <TextButton label={`Mend line ${line}`} press={() => setOpened([...opened, line])}>
                        Mend
                      </TextButton>
                    )}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          {sheet.rows.length > MOST_SHOWN && <p className="small quiet">And {sheet.rows.length - MOST_SHOWN} more, read the same way.</p>}
        </details>
      )}
    </section>
  )
}
