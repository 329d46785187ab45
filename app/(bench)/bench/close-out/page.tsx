import type { Metadata } from 'next'
import { api, serverNow } from '#app/_trpc/server.ts'
import { Checklist } from '#app/_ui/checklist.tsx'
import { insteadOf } from './for-whom'
import { LeftLotTag } from './left-lot'
import { closeOutParts } from './parts.rules'

export const metadata: Metadata = { title: 'Close out' }

const SAYS = { done: 'Done', open: 'To do', 'not-yet': 'Not yet' }

/** What is left to do before the campaign is closed out. */
export default async function CloseOutPage() {
  const instead = await insteadOf('Close out', ['maker', 'treasurer'])
  if (instead) return instead
  const caller = await api()
  const [items, { person, campaign }, left, programme, now] = await Promise.all([
    caller.closeOut.checklist(),
    caller.people.shell(),
    caller.closeOut.left(),
    caller.programme.open(),
    serverNow(),
  ])
  const next = [...(programme ? [programme, ...programme.others] : [])]
    .sort((a, b) => a.opensAt - b.opensAt)
    .find(({ closesAt }) => closesAt > now)
  const mayOpen = new Set(closeOutParts(person?.role ?? 'bidder').map(({ href }) => href))
  const all = items ?? []
  const done = all.filter(({ state }) => state === 'done').length
  return (
    <div className="page stack">
      <h1>Close out</h1>
      <p>
        <b>
          {done} of {all.length} done.
        </b>{' '}
        You tick nothing here: each point is worked out from the records.
      </p>
      <Checklist items={all} says={SAYS} mayOpen={({ href }) => !href.startsWith('/bench/close-out/') || mayOpen.has(href)} />
      {left.length > 0 && (
        <section id="left" className="stack" aria-labelledby="what-is-left">
          <h2 id="what-is-left">What is left</h2>
          <p className="quiet">
            Nobody has these machines: they did not sell, were withdrawn, or their sale fell through. Each can go at a fixed price, be sold
            at another closing, or be kept.
          </p>
          <ul className="plain-list stack">
            {left.map((one) => (
              <li key={one.lot}>
                <LeftLotTag left={one} zone={campaign?.zone ?? 'UTC'} next={next ?? null} isMaker={person?.role === 'maker'} />
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  )
}
