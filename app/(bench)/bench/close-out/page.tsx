import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Checklist } from '#app/_ui/checklist.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { FixedPriceDesk } from '#app/(bench)/bench/_fixed-price/fixed-price-desk.tsx'
import { insteadOf } from './for-whom'
import { closeOutParts } from './parts.rules'

export const metadata: Metadata = { title: 'Close out' }

const SAYS = { done: 'Done', open: 'To do', 'not-yet': 'Not yet' }

/** What is left to do before the campaign is closed out. */
export default async function CloseOutPage() {
  const instead = await insteadOf('Close out', ['maker', 'treasurer'])
  if (instead) return instead
  const caller = await api()
  const [items, { person }, desks] = await Promise.all([caller.closeOut.checklist(), caller.people.shell(), caller.fixedPrice.desks()])
  const mayOpen = new Set(closeOutParts(person?.role ?? 'bidder').map(({ href }) => href))
  const all = items ?? []
  const left = desks.filter(({ whyNot, standing }) => whyNot === null || standing)
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
          <p className="quiet">Nobody has these machines: they did not sell, were withdrawn, or their sale fell through.</p>
          <ul className="plain-list stack">
            {left.map((desk) => (
              <li key={desk.lot}>
                <Tag code={`Lot ${desk.lot}`} href={`/bench/lots/${desk.lot}`}>
                  <p>{desk.title}</p>
                  <FixedPriceDesk desk={desk} />
                </Tag>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  )
}
