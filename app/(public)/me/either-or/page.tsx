import type { Metadata } from 'next'
import Link from 'next/link'
import { redirect } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { countryName } from '#kernel/countries'
import { dayAt } from '#people/campaign/stream-days.rules'
import { EitherOrForm } from './either-or-form'
import { EitherOrSheet } from './either-or-sheet'

export const metadata: Metadata = { title: 'Either-or' }

/** A bidder's either-ors, and the form for a new one. For their eyes only; made anew for each request. */
export default async function EitherOrPage({ searchParams }: { searchParams: Promise<{ lot?: string }> }) {
  const { lot } = await searchParams
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (!person) redirect('/sign-in?next=/me/either-or')
  if (!campaign) redirect('/')
  const [eitherOrs, offered, { paddle }, { lots, serverNow }, programme] = await Promise.all([
    caller.eitherOr.mine(),
    caller.eitherOr.lots(),
    caller.people.myPaddle(),
    caller.bidding.frames(),
    caller.programme.open(),
  ])
  const day = { opensAt: campaign.streamOpensAt, closesAt: campaign.streamClosesAt, zone: campaign.zone, now: serverNow }
  const days = [day, ...(programme?.others ?? [])].sort((a, b) => a.opensAt - b.opensAt)
  const [first = day, ...more] = days
  // The line is that of one stream day: closings of another would draw it out over weeks.
  const closings = lots.flatMap(({ number, closesAt, endedAt }) => {
    const at = endedAt ?? closesAt
    return at === null || dayAt([first, ...more], at).opensAt !== day.opensAt ? [] : [{ number, at }]
  })
  return (
    <div className="page stack">
      <Crumbs trail={[{ href: '/me', label: 'My bids' }]} />
      <h1>Either-or</h1>
      <p>
        List lots in the order you would like them, with the most you would pay for each. You bid on the first; only if you lose it does the
        next bid start, at the very instant that lot closes. So you never buy two when you want one.
      </p>
      {eitherOrs.map((eitherOr) => (
        <EitherOrSheet key={eitherOr.id} eitherOr={eitherOr} day={day} closings={closings} />
      ))}
      {paddle === null ? (
        <EmptyState
          title="You need a paddle first."
          action={
            <Link prefetch={false} href="/paddle?next=/me/either-or">
              Take your paddle
            </Link>
          }
        >
          It says where we would send a lot and how high you may bid.
        </EmptyState>
      ) : (
        <section className="sheet act stack" aria-labelledby="new-either-or">
          <h2 id="new-either-or">A new either-or</h2>
          <EitherOrForm
            lots={offered}
            currency={campaign.currency}
            day={day}
            closings={closings}
            first={Number(lot) || null}
            countryName={countryName(paddle.country)}
          />
        </section>
      )}
    </div>
  )
}
