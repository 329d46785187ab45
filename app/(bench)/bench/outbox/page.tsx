import type { Metadata } from 'next'
import { api } from '../../../_trpc/server'
import { Chip } from '../../../_ui/chip'
import { EmptyState } from '../../../_ui/empty-state'
import { When } from '../../../_ui/when'
import { StaffOnly } from '../_shell/staff-only'

export const metadata: Metadata = { title: 'Outbox' }

export default async function OutboxPage() {
  const caller = await api()
  const { person, campaign } = await caller.campaign.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  const letters = await caller.outbox.list()
  const zone = campaign?.zone ?? 'utc'
  return (
    <div className="page stack">
      <h1>Outbox</h1>
      <p className="quiet">
        Every mail that the house wrote, newest first. Where no mail server is set, it waits here and can be read out or copied.
      </p>
      {letters.length === 0 && (
        <EmptyState title="No mail has been written yet.">The first will be a sign-in code, or word of a closing.</EmptyState>
      )}
      {letters.map((letter) => (
        <article key={letter.id} className="sheet stack close">
          <div className="row apart">
            <h2>{letter.subject}</h2>
            <Chip tone={letter.sentAt === null ? (letter.lastError ? 'bad' : 'doubt') : 'ok'}>
              {letter.sentAt === null ? (letter.lastError ? 'Not gone yet' : 'Waiting') : 'Gone'}
            </Chip>
          </div>
          <p className="small quiet">
            To {letter.recipient}, <When at={letter.at} zone={zone} />
          </p>
          <p style={{ whiteSpace: 'pre-line' }}>{letter.body}</p>
          {letter.lastError && letter.sentAt === null && (
            <p className="small">
              Tried {letter.tries} times. The mail server said: {letter.lastError}
            </p>
          )}
        </article>
      ))}
    </div>
  )
}
