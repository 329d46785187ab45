import type { Metadata } from 'next'
import { api, serverNow } from '#app/_trpc/server.ts'
import { AsOf } from '#app/_ui/as-of.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { sayWhen } from '#app/_ui/when.rules.ts'
import { zonePlace } from '#kernel/wall-clock'
import { Changes } from './changes'
import { DayList } from './day-list'

const title = 'Programme'
const description = 'When each machine closes, who comes to talk, and when there is a break.'

export async function generateMetadata(): Promise<Metadata> {
  const programme = await (await api()).programme.open()
  if (!programme) return { title, description }
  const { name, zone, opensAt, items } = programme
  const next = items.filter(({ kind, isOver }) => kind === 'closing' && !isOver).sort((a, b) => a.runsTo - b.runsTo)[0]
  const when = next ? `Next to close: ${next.title}, ${sayWhen(next.runsTo, zone, 'both')} in ${zonePlace(zone)}.` : ''
  return {
    title,
    description: when || description,
    alternates: { types: { 'application/atom+xml': '/programme.atom', 'text/calendar': '/programme.ics' } },
    openGraph: {
      title: `${name}, ${sayWhen(opensAt, zone, 'day')}`,
      description: when || description,
      url: '/programme',
      images: [{ url: '/programme.png', width: 1200, height: 630, alt: `The programme of ${name}. ${when}` }],
    },
    twitter: { card: 'summary_large_image' },
  }
}

export default async function ProgrammePage() {
  const caller = await api()
  const [programme, changes, now] = [await caller.programme.open(), await caller.programme.changes(), await serverNow()]
  if (!programme) {
    return (
      <div className="page">
        <h1>Programme</h1>
        <EmptyState title="No stream is planned yet.">
          <p>Once one is, its closings, guests and breaks appear here.</p>
        </EmptyState>
      </div>
    )
  }
  return (
    <div className="page stack wide">
      <div className="row apart">
        <h1>Programme</h1>
        <div>
          <a className="button-line" href="/programme.ics">
            Keep it in your calendar
          </a>
          <p className="small quiet">Subscribe to its address, and your calendar follows every change.</p>
        </div>
      </div>
      {programme.clockChange && (
        <Notice tone="doubt" title="The clocks change that night">
          <p>{programme.clockChange.words}</p>
        </Notice>
      )}
      <AsOf at={now} zone={programme.zone} path="/programme" />
      <DayList initial={programme} serverNow={now} />
      {changes && <Changes initial={changes} programme={programme} />}
    </div>
  )
}
