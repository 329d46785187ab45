import Link from 'next/link'
import { api } from '../_trpc/server'
import { EmptyState } from '../_ui/empty-state'
import { LotsBoard } from './_lots/lots-board'
import { LotsMeter } from './_lots/lots-meter'
import { NextDay } from './_lots/next-day'

/** The lots of the campaign, with the meter above them. */
export default async function LotsPage() {
  const caller = await api()
  const { campaign } = await caller.people.shell()
  if (!campaign)
    return (
      <div className="page stack">
        <h1>Nothing is set up yet</h1>
        <EmptyState
          title="There is no campaign here yet."
          action={
            <Link prefetch={false} href="/bench/campaign">
              Set one up
            </Link>
          }
        >
          The maker sets one up at the bench: who benefits, who sells, when the stream runs.
        </EmptyState>
      </div>
    )
  const [cards, frames, meter, programme] = await Promise.all([
    caller.lotPage.cards(),
    caller.bidding.frames(),
    caller.proceeds.meter(),
    caller.programme.open(),
  ])
  return (
    <div className="page stack wide">
      <header className="stack close">
        <h1>{campaign.name}</h1>
        <p className="quiet">
          Machines made by hand from gifts, each with the record of its tests
          {campaign.causeName && `, sold in aid of ${campaign.causeName}`}.
        </p>
        {programme && <NextDay programme={programme} lots={frames} serverNow={frames.serverNow} />}
      </header>
      {meter && (
        <div className="stack close">
          <LotsMeter initial={meter} />
          <p>
            <Link prefetch={false} className="alone" href="/raised">
              The day, lot by lot
            </Link>
          </p>
        </div>
      )}
      {cards.length === 0 ? (
        <EmptyState
          title="No lot is shown yet."
          action={
            <Link prefetch={false} href="/wanted">
              See what is still wanted
            </Link>
          }
        >
          The machines are on the bench. A lot appears here once it is listed.
        </EmptyState>
      ) : (
        <LotsBoard cards={cards} initial={frames} zone={campaign.zone} />
      )}
    </div>
  )
}
