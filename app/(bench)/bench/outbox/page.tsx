import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import type { Tone } from '#app/_ui/tone.ts'
import { When } from '#app/_ui/when.tsx'
import { StaffOnly } from '../_refused/staff-only'
import { TryAgain } from './try-again'

export const metadata: Metadata = { title: 'Outbox' }

export default async function OutboxPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  const letters = await caller.outbox.list()
  const zone = campaign?.zone ?? 'utc'
  return (
    <div className="page stack">
      <h1>Outbox</h1>
      <p className="quiet">
        Every email that the house has written, newest first. If no mail server is set, they wait here and can be read out or copied, except
        for the key of a donor’s own page: make a link to hand over on the donor’s page. Sign-in codes are not shown anywhere: whoever runs
        the house can see them on its own machine.
      </p>
      {letters.length === 0 && (
        <EmptyState title="No email has been written yet.">The first will be a sign-in code, or news of a closing.</EmptyState>
      )}
      {letters.map((letter) => (
        <article key={letter.id} className="sheet stack close">
          <div className="row apart">
            <h2>{letter.subject}</h2>
            <Chip {...stateOf(letter)} />
          </div>
          <p className="small quiet">
            To {letter.recipient}, <When at={letter.at} zone={zone} />
          </p>
          <details>
            <summary>
              Read it
              <span className="visually-hidden">
                : {letter.subject}, to {letter.recipient}
              </span>
            </summary>
            <p style={{ whiteSpace: 'pre-line' }}>{letter.body}</p>
          </details>
          {letter.attachedName !== null && (
            <p className="small quiet">
              Attached: {letter.attachedName}, for its reader alone.{' '}
              {letter.sentAt === null ? 'It waits sealed, and cannot be opened here.' : 'It went with the letter, and is not kept here.'}
            </p>
          )}
          {letter.lastError && letter.sentAt === null && letter.withdrawnAt === null && (
            <>
              <p className="small">
                {letter.isGivenUp ? 'It is no longer being tried' : `Tried ${letter.tries} ${letter.tries === 1 ? 'time' : 'times'}`}. The
                mail server said: {letter.lastError}
              </p>
              <TryAgain id={letter.id} subject={letter.subject} />
            </>
          )}
        </article>
      ))}
    </div>
  )
}

interface LetterState {
  sentAt: number | null
  withdrawnAt: number | null
  lastError: string | null
  isGivenUp: boolean
}

function stateOf({ sentAt, withdrawnAt, lastError, isGivenUp }: LetterState): { tone: Tone; children: string } {
  if (sentAt !== null) return { tone: 'ok', children: 'Gone' }
  if (withdrawnAt !== null) return { tone: 'plain', children: 'Withdrawn, no longer so' }
  if (isGivenUp) return { tone: 'bad', children: 'Given up' }
  return lastError === null ? { tone: 'doubt', children: 'Waiting' } : { tone: 'bad', children: 'Not gone yet' }
}
