import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { askedDay } from '../_days/asked-day'
import { DayNav } from '../_days/day-nav'
import { StaffOnly } from '../_refused/staff-only'
import { VideoText } from './video-text'

export const metadata: Metadata = { title: 'Text for the video' }

/** What is put under the stream and its recording: times, chapters, links, cause and credits. */
export default async function VideoPage({ searchParams }: { searchParams: Promise<{ day?: string }> }) {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'maker' && person?.role !== 'host') return <StaffOnly roles={['host']} person={person} />
  const programme = await caller.programme.open()
  const days = [...(programme ? [programme, ...programme.others] : [])].sort((a, b) => a.number - b.number)
  const asked = askedDay((await searchParams).day)
  const day = days.find(({ number }) => number === asked)?.number ?? programme?.number
  return (
    <div className="page stack">
      <div className="row apart">
        <h1>Text for the video</h1>
        <Link href="/bench/programme">The day</Link>
      </div>
      {campaign ? (
        <>
          <p>
            Before the stream its times are those of the programme; copy it again afterwards and it has the true ones, the results and the
            head of each history. It names who agreed to be named on the page, as of now.
          </p>
          <DayNav days={days} shown={day ?? 1} zone={campaign.zone} path="/bench/video" />
          <VideoText key={day} day={day} initial={await caller.telling.describe({ begins: '', day })} />
        </>
      ) : (
        <EmptyState title="There is no campaign yet.">
          <p>The text appears once the stream has a name and a day.</p>
        </EmptyState>
      )}
    </div>
  )
}
