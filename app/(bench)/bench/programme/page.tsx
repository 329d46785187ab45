import type { Metadata } from 'next'
import Link from 'next/link'
import { api, serverNow } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { showDay } from '#kernel/wall-clock'
import { closingsIn, sayClosings } from '#sale/programme/day-words.rules'
import { lateWords } from '#sale/programme/late-words.rules'
import { askedDay } from '../_days/asked-day'
import { DayNav } from '../_days/day-nav'
import { StaffOnly } from '../_refused/staff-only'
import { AnnounceButton } from './announce-button'
import { AudienceForm } from './audience-form'
import { DayDesk } from './day-desk'
import { ItemTable } from './item-table'
import { PlanForm } from './plan-form'
import styles from './planner.module.css'
import { RiskSheet } from './risk-sheet'

export const metadata: Metadata = { title: 'The day' }

const ROLES = ['maker', 'host', 'volunteer', 'treasurer'] as const

/** The planner: the day as one line, and what can be put into it. */
export default async function DayPage({ searchParams }: { searchParams: Promise<{ day?: string }> }) {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const asked = askedDay((await searchParams).day)
  const [day, now] = [await caller.programme.day({ day: asked }), await serverNow()]
  const shown = { day: day?.number }
  const planning = await caller.planning.present(shown)
  const warnings = await caller.planning.warnings(shown)
  const allLate = await caller.programme.lateParts()
  const late = allLate.filter(({ itemId }) => itemId !== null)
  if (!day) {
    return (
      <div className="page">
        <h1>The day</h1>
        <EmptyState title="There is no campaign yet." action={<Link href="/bench/campaign">Set up the campaign</Link>}>
          <p>A day is planned inside its stream window.</p>
        </EmptyState>
      </div>
    )
  }
  return (
    <div className="page stack wide">
      <div className="row apart">
        <h1>
          {day.days.length > 1 ? showDay(day.opensAt, day.zone) : 'The day'}, {sayClosings(closingsIn(day.items))}
        </h1>
        <p className="row">
          <Link prefetch={false} href="/programme">
            As everybody sees it
          </Link>
          <Link prefetch={false} href="/bench/video">
            Text for the video
          </Link>
          <Link prefetch={false} href="/bench/rehearsal">
            Rehearse it
          </Link>
          <Link prefetch={false} href="/air/host">
            Host’s screen
          </Link>
        </p>
      </div>
      <DayNav days={day.days} shown={day.number} zone={day.zone} path="/bench/programme" />
      {day.clockChanges.map((change) => (
        <Notice key={change.words} tone="doubt" title="The clocks change">
          <p>{change.words}</p>
        </Notice>
      ))}
      {warnings.length > 0 && (
        <Notice tone="doubt" title="Not to be overlooked">
          <ul>
            {warnings.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </Notice>
      )}
      {planning && <DayDesk day={day} now={now} planning={planning} />}
      <RiskSheet day={day} found={await caller.simulation.present(shown)} />
      {late.length > 0 && (
        <Notice tone="doubt" title={late.length === 1 ? 'A lot may not be ready' : `${late.length} lots may not be ready`}>
          <ul>
            {late.map((one) => (
              <li key={one.lot}>
                Lot {one.lot}: {lateWords(one)}. <Link href="/bench/parts/build">What can be built</Link>
              </li>
            ))}
          </ul>
        </Notice>
      )}
      {day.unannounced > 0 && (
        <AnnounceButton
          day={day.number}
          count={day.unannounced}
          late={late.filter(({ isAnnounced, itemId }) => !isAnnounced && day.items.some(({ id }) => id === itemId))}
        />
      )}
      <div className={styles.desk}>
        <section className="sheet act stack" aria-labelledby="plan">
          <h2 id="plan">Put something in</h2>
          <PlanForm zone={day.zone} opensAt={day.opensAt} lots={day.unplanned} late={allLate} />
        </section>
        <div className="stack">
          {day.items.length === 0 ? (
            <EmptyState title="Nothing is planned yet.">
              <p>Begin with what is fixed: guests and their hours, then breaks. Closings go in between.</p>
            </EmptyState>
          ) : (
            <ItemTable items={day.items} zone={day.zone} late={new Set(late.flatMap(({ itemId }) => itemId ?? []))} />
          )}
        </div>
      </div>
      <section className="sheet stack" aria-labelledby="audience">
        <h2 id="audience">Where the audience lives</h2>
        <AudienceForm zones={day.audience} home={day.zone} />
      </section>
    </div>
  )
}
