import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'
import { insteadOf } from '../for-whom'
import { CopiesElsewhere } from './copies-elsewhere'
import { DeletionForm } from './deletion-form'
import { KeepPart } from './keep-part'
import { TermForm } from './term-form'
import { WhatGoes } from './what-goes'
import { WhatStays } from './what-stays'

export const metadata: Metadata = { title: 'Contact data' }

/** What would be deleted and of whom, and what stays and why: all of it is read before it is done. */
export default async function ContactsPage() {
  const instead = await insteadOf('Contact data', ['maker'])
  if (instead) return instead
  const caller = await api()
  const [view, copies, keeping] = await Promise.all([caller.deletion.contacts(), caller.deletion.copies(), caller.deletion.keeping()])
  const { refusedBecause, dueAt, zone } = view
  return (
    <div className="page stack wide">
      <header className="stack close">
        <h1>Contact data</h1>
        <p>
          Contact data is kept while it is needed, and then deleted.{' '}
          {dueAt !== null && (
            <>
              The time is up on <b>{<When at={dueAt} zone={zone} show="day" />}</b>, {view.days} days after the stream.
            </>
          )}
        </p>
      </header>
      {keeping && <KeepPart keeping={keeping} />}
      <TermForm days={view.days} />
      <WhatGoes contacts={view} />
      <WhatStays stays={view.stays} inJournal={view.inJournal} />
      <CopiesElsewhere copies={copies} />
      {view.steps.length > 0 &&
        (refusedBecause ? (
          <Notice tone="info" title="Not now">
            <p>{refusedBecause}</p>
          </Notice>
        ) : (
          <DeletionForm campaign={view.campaign} shown={view.shown} />
        ))}
      {view.deletions.map(({ id, at, counts }) => (
        <Notice key={id} tone="ok" title="Contact data was deleted">
          <p>
            On <When at={at} zone={zone} />:{' '}
            {Object.entries(counts)
              .map(([what, count]) => `${count} ${what}`)
              .join('; ')}
            .
          </p>
        </Notice>
      ))}
    </div>
  )
}
