import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { sayEndOfSession } from '#people/sign-in/session-life.rules'
import { PasskeysSheet } from './passkeys-sheet'
import { SessionTable } from './session-table'

export const metadata: Metadata = { title: 'Sessions and passkeys', robots: { index: false } }

/** Where one is signed in, and, for the staff, by what else than a code. Made anew for each request and kept nowhere. */
export default async function SessionsPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (!person) redirect('/sign-in?next=/me/sessions')
  const mine = await caller.sessions.mine()
  const zone = campaign?.zone ?? 'UTC'
  return (
    <div className="page stack">
      <h1>Sessions and passkeys</h1>
      <p>
        You are signed in as <b>{person.name}</b>, {person.role}, with {mine.email}.
      </p>
      <section className="sheet stack" aria-labelledby="sessions">
        <h2 id="sessions">Where you are signed in</h2>
        <p>
          {sayEndOfSession(person.role)} If one of these is not yours, end it; nobody can get back in without your email
          {mine.passkeys.length > 0 && ' or your passkey'}.
        </p>
        <SessionTable sessions={mine.sessions} zone={zone} />
      </section>
      {(mine.mayAddPasskey || mine.passkeys.length > 0) && (
        <PasskeysSheet passkeys={mine.passkeys} mayAdd={mine.mayAddPasskey} publicUrl={mine.publicUrl} zone={zone} />
      )}
    </div>
  )
}
