import type { Metadata } from 'next'
import { api, serverNow } from '../../_trpc/server'
import { EmptyState } from '../../_ui/empty-state'
import { Notice } from '../../_ui/notice'
import { DayList } from './day-list'

export const metadata: Metadata = {
  title: 'Programme',
  description: 'When each machine closes, who comes to talk, and when there is a break.',
}

export default async function ProgrammePage() {
  const [programme, now] = [await (await api()).programme.open(), await serverNow()]
  if (!programme) {
    return (
      <div className="page">
        <h1>Programme</h1>
        <EmptyState title="No stream is planned yet.">
          <p>When one is, its closings, guests and breaks stand here.</p>
        </EmptyState>
      </div>
    )
  }
  return (
    <div className="page stack wide">
      <div className="row apart">
        <h1>Programme</h1>
        <a className="button-line" href="/programme.ics">
          Keep it in your calendar
        </a>
      </div>
      {programme.clockChange && (
        <Notice tone="doubt" title="The clocks change that night">
          <p>{programme.clockChange.words}</p>
        </Notice>
      )}
      <DayList initial={programme} serverNow={now} />
    </div>
  )
}
