import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { api, publicUrl } from '#app/_trpc/server.ts'
import { countriesByName } from '#kernel/countries'
import { SECOND } from '#kernel/instant'
import { onwardPath } from '#kernel/onward'
import { lateBidRule } from '#sale/price/late-bid.rules'
import { PaddleForm } from './paddle-form'
import { WaitingBid } from './waiting-bid'

export const metadata: Metadata = { title: 'Your paddle' }

export default async function PaddlePage({ searchParams }: { searchParams: Promise<{ next?: string | string[] }> }) {
  const { next } = await searchParams
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person) redirect('/sign-in?next=/paddle')
  const campaign = await caller.campaign.open()
  if (person.role !== 'bidder' || !campaign)
    return (
      <div className="page stack">
        <h1>Your paddle</h1>
        <p>
          {campaign
            ? `You are signed in as ${person.role}. The staff of this sale cannot bid in it; to bid you need another email address.`
            : 'There is no sale to bid in yet.'}
        </p>
      </div>
    )
  const [mine, disclosed] = await Promise.all([caller.people.myPaddle(), caller.bidding.myDisclosures()])
  const onward = onwardPath(next, publicUrl()) ?? '/'
  const lot = /^\/lots\/([1-9]\d{0,8})(?:#bid)?$/.exec(onward)?.[1]
  const frame = mine.paddle === null && lot !== undefined ? await caller.bidding.frame({ lot: Number(lot) }) : null
  return (
    <div className="page stack">
      <h1>{mine.paddle ? `Your paddle is number ${mine.paddle.number}` : 'Take a paddle'}</h1>
      <p>A paddle is your number in this sale. Your bids are shown under a random alias for each lot, never under your name.</p>
      {frame && <WaitingBid initial={frame} />}
      <PaddleForm
        name={mine.name}
        country={mine.paddle?.country ?? ''}
        hasPaddle={mine.paddle !== null}
        disclosed={disclosed.findLast(({ lot }) => lot === null)?.kind ?? null}
        countries={countriesByName()}
        onward={onward}
      >
        <section className="sheet stack">
          <h2>Rules of sale, in short</h2>
          <ul>
            <li>A bid is a promise to pay up to what you wrote. You cannot withdraw it.</li>
            <li>You pay one step over the next bidder, and never more than you wrote. Postage is added and is shown with the bid.</li>
            <li>{lateBidRule({ windowMs: campaign.lateWindowSeconds * SECOND, addsMs: campaign.lateAddsSeconds * SECOND })}</li>
            <li>
              {campaign.causeName} receives {campaign.causeShareBp / 100} % of each hammer price. The seller is{' '}
              {campaign.sellerName || 'not named yet'}.
            </li>
            <li>{campaign.cancelWords || 'Each lot says how its sale can be cancelled before it opens.'}</li>
            <li>
              Machines are made by hand from donated parts. Read the record and the cautions; local rules for electrical goods come first.
            </li>
          </ul>
        </section>
      </PaddleForm>
    </div>
  )
}
