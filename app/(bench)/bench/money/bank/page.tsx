import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import styles from './bank.module.css'
import { BankFile } from './bank-file'
import { BankLine } from './bank-line'
import { Layouts } from './layouts'
import { Reconciled } from './reconciled'
import { SettledLines } from './settled-lines'

export const metadata: Metadata = { title: 'Bank' }

/** The bank's lines: read from a file, each with what it probably is, confirmed by a person. What nothing speaks for stays in sight. */
export default async function BankPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (person?.role !== 'treasurer' && person?.role !== 'maker') return <StaffOnly roles={['treasurer', 'maker']} person={person} />
  const desk = await caller.bank.desk()
  return (
    <div className="page stack wide">
      <h1>Bank</h1>
      {desk.mayWrite && (
        <section className="sheet stack" aria-labelledby="file">
          <h2 id="file">Import a bank file</h2>
          <BankFile currency={desk.currency} zone={desk.zone} />
        </section>
      )}
      {desk.layouts.length > 0 && <Layouts layouts={desk.layouts} zone={desk.zone} mayWrite={desk.mayWrite} />}
      <section className="stack" aria-labelledby="open">
        <h2 id="open">
          {desk.open.length === 0
            ? 'No lines are waiting'
            : desk.open.length === 1
              ? 'One line is waiting'
              : `${desk.open.length} lines are waiting`}
        </h2>
        {desk.open.length === 0 && desk.settled.length === 0 && (
          <EmptyState title="No bank file has been read yet.">
            <p>
              Export the account’s lines from your bank as CSV or camt.053 and import them here. Importing the same file twice changes
              nothing.
            </p>
          </EmptyState>
        )}
        <ul className={`plain-list stack ${styles.list}`}>
          {desk.open.map((line) => (
            <li key={line.id}>
              <BankLine
                line={line}
                desk={{ currency: desk.currency, zone: desk.zone, lots: desk.lots, owing: desk.owing, mayWrite: desk.mayWrite }}
              />
            </li>
          ))}
        </ul>
      </section>
      <Reconciled reconciled={desk.reconciled} currency={desk.currency} mayWrite={desk.mayWrite} />
      {desk.settled.length > 0 && <SettledLines lines={desk.settled} currency={desk.currency} zone={desk.zone} mayWrite={desk.mayWrite} />}
    </div>
  )
}
