'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { ColumnChooser } from '#app/(bench)/bench/designs/import/column-chooser.tsx'
import { FlawsAlone } from '#app/(bench)/bench/designs/import/flaws-alone.tsx'
import { GuessedColumns } from '#app/(bench)/bench/designs/import/guessed-columns.tsx'
import { type Mend, MendRows } from '#app/(bench)/bench/designs/import/mend-rows.tsx'
import { UnderstoodRows } from '#app/(bench)/bench/designs/import/understood-rows.tsx'
import { DropSheet } from './drop-sheet'
import { Questions } from './questions'
import { type OpenSheet, useSheet } from './use-sheet'

/** How a sheet reads: its columns, what is in doubt, rows to mend, and just what would be stored. */
export function SheetDesk({ first, wanted }: { first: OpenSheet; wanted: readonly string[] }) {
  const router = useRouter()
  const desk = useSheet(first)
  const store = useCommand(api.sheets.store.mutate)
  const [mends, setMends] = useState<readonly Mend[]>(first.choice.mends ?? [])
  const [opened, setOpened] = useState<readonly number[]>([])
  const { id, name, read } = desk.sheet
  const { table, rows, flaws, questions, digest } = read
  const isOpen = digest === null
  const toMend = rows.filter(({ line, written }) => written || opened.includes(line) || flaws.some((flaw) => flaw.line === line))
  const mendable = new Set(toMend.map(({ line }) => line))
  const guessed = table.columns.filter(({ column, guess }) => column !== null && guess !== null)
  const alone = flaws.filter(({ line, column }) => !mendable.has(line) && !guessed.some((one) => one.column === column && line === 0))
  const choice = desk.choice()

  const put = (mend: Mend) => {
    const next = [...mends.filter(({ line, column }) => line !== mend.line || column !== mend.column), mend]
    setMends(next)
    desk.mend({ ...desk.choice(), mends: next })
  }
  const send = async () => {
    store.forget()
    // Whatever was mended and not read yet is read first: nothing is stored that was not shown.
    if (isOpen || JSON.stringify(desk.choice().mends ?? []) !== JSON.stringify(desk.sheet.choice.mends ?? [])) {
      await desk.read()
      return undefined
    }
    return store.run({ id, digest })
  }
  return (
    <>
      <CommandForm
        label="This sheet"
        pending={desk.pending || store.pending}
        refusal={desk.refusal ?? store.refusal}
        run={send}
        onDone={(answer) => answer && router.refresh()}
      >
        <section className="sheet stack" aria-labelledby="as-read">
          <h2 id="as-read" className="row">
            {name || 'The sheet'}{' '}
            {flaws.length > 0 ? <Chip tone="bad">{`${flaws.length} to correct`}</Chip> : <Chip tone="ok">{`${read.count} rows read`}</Chip>}
          </h2>
          {read.notes.length > 0 && (
            <Notice>
              <ul>
                {read.notes.map((words) => (
                  <li key={words}>{words}</li>
                ))}
              </ul>
            </Notice>
          )}
          <GuessedColumns
            columns={table.columns}
            onConfirm={() =>
              desk.choose({ ...choice, hasHeading: table.hasHeading, columns: table.columns.map(({ column }) => column ?? '') })
            }
          />
          <FlawsAlone flaws={alone} />
          {table.columns.length > 0 && (
            <details open={guessed.length > 0 || alone.length > 0 ? true : undefined}>
              <summary>What each column is used for</summary>
              <ColumnChooser sheet={{ ...table, list: 'sheet' }} wanted={wanted} choice={choice} onChoose={desk.choose} />
            </details>
          )}
        </section>
        <Questions questions={questions} onAnswer={desk.answer} onAnswerAll={desk.answerAll} />
        <MendRows
          list="sheet"
          rows={toMend}
          flaws={flaws}
          mends={mends}
          onMend={put}
          onRead={() => desk.choose({ ...desk.choice(), mends: [...mends] })}
        />
        <section className="sheet act stack" aria-labelledby="stored-then" aria-live="polite">
          <h2 id="stored-then">{isOpen ? 'What would be stored, as it reads now' : 'What will be stored'}</h2>
          {read.summary.length === 0 ? (
            <p>Nothing yet.</p>
          ) : (
            <ul>
              {read.summary.map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
          )}
          <UnderstoodRows
            rows={rows}
            count={read.count}
            isOpen={rows.length < 12}
            wrong={new Set(flaws.map(({ line }) => line))}
            mendable={mendable}
            onMend={(line) => setOpened([...opened, line])}
          />
          {isOpen && (
            <p>
              {leftToDo(flaws.length, questions.filter(({ answer }) => answer === null).length)} Until then nothing is stored; you can leave
              and go on later.
            </p>
          )}
          <SubmitButton waiting={isOpen ? 'Reading it' : 'Storing it'}>{isOpen ? 'Read it again' : 'Store all of it'}</SubmitButton>
        </section>
      </CommandForm>
      <div>
        <DropSheet id={id} />
      </div>
    </>
  )
}

function leftToDo(flaws: number, questions: number): string {
  const said = [
    flaws > 0 ? (flaws === 1 ? 'one thing to correct' : `${flaws} things to correct`) : '',
    questions > 0 ? (questions === 1 ? 'one question to answer' : `${questions} questions to answer`) : '',
  ].filter(Boolean)
  return said.length === 0 ? '' : `Still open: ${said.join(' and ')}.`
}
