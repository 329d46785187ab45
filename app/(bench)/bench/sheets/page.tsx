import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { When } from '#app/_ui/when.tsx'
import { SHEET_WHATS } from '#gifts/sheets/sheets.contract'
import { StaffOnly } from '../_refused/staff-only'
import { SHEET_WORDS } from './sheet-words'

export const metadata: Metadata = { title: 'From spreadsheets' }

export default async function SheetsPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  const sheets = await caller.sheets.list()
  const zone = campaign?.zone ?? 'UTC'
  const begun = sheets.filter(({ state }) => state !== 'stored')
  const stored = sheets.filter(({ state }) => state === 'stored')
  return (
    <div className="page stack wide">
      <h1>From spreadsheets</h1>
      <p>
        What you have in spreadsheets need not be typed again. You see how each row is read, are asked what is in doubt, and mend what is
        wrong. Nothing is stored before you say so, and then all of a sheet or none of it.
      </p>
      {begun.length > 0 && (
        <section className="sheet act stack" aria-labelledby="begun">
          <h2 id="begun">Begun</h2>
          <ul>
            {begun.map(({ id, what, name, state, at }) => (
              <li key={id}>
                <Link href={`/bench/sheets/${id}`}>{`${SHEET_WORDS[what].title}: ${name || 'a file'}`}</Link>
                {state === 'storing' ? ', being stored' : ', nothing of it is stored yet'}, brought <When at={at} zone={zone} show="day" />
              </li>
            ))}
          </ul>
        </section>
      )}
      {SHEET_WHATS.map((what) => (
        <section key={what} className="sheet stack" aria-labelledby={what}>
          <h2 id={what}>{SHEET_WORDS[what].title}</h2>
          <p>{SHEET_WORDS[what].about}</p>
          <p className="row">
            <Link className="button-line" href={`/bench/sheets/new/${what}`} aria-label={`Bring a sheet: ${SHEET_WORDS[what].title}`}>
              Bring a sheet
            </Link>
            <Link href={SHEET_WORDS[what].seen.href}>{SHEET_WORDS[what].seen.label}</Link>
          </p>
        </section>
      ))}
      {stored.length > 0 && (
        <section className="sheet stack" aria-labelledby="stored">
          <h2 id="stored">Stored</h2>
          <ul>
            {stored.map(({ id, what, name, storedAt, summary }) => (
              <li key={id}>
                <Link href={`/bench/sheets/${id}`}>{`${SHEET_WORDS[what].title}: ${name || 'a file'}`}</Link>
                {storedAt !== null && (
                  <>
                    , <When at={storedAt} zone={zone} show="day" />
                  </>
                )}
                : {summary[0]}
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  )
}
