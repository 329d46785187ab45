import type { Metadata } from 'next'
import Link from 'next/link'
import { redirect } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { countryName } from '#kernel/countries'
import { showMoney } from '#kernel/money'
import { mostOfAll } from '#money/invoices/my-most.rules'
import { BasketSheet } from './basket-sheet'
import { BoughtSheet } from './bought-sheet'
import { FollowLots } from './follow-lots'
import { MyLotSheet } from './my-lot-sheet'
import { MyReceipts } from './my-receipts'

export const metadata: Metadata = { title: 'My bids' }

/** Everything a bidder said, and the most that it can cost them today. Made anew for each request and kept nowhere. */
export default async function MyBidsPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (!person) redirect('/sign-in?next=/me')
  if (!campaign) redirect('/')
  const [mine, { paddle }, offers, basket, sales] = await Promise.all([
    caller.bidding.myBids(),
    caller.people.myPaddle(),
    caller.invoices.myOffers(),
    caller.invoices.basket(),
    caller.invoices.mySales(),
  ])
  const asked = offers.filter(({ answer, isOver }) => answer === null && !isOver).length
  const saleOf = (lot: number) => sales.find((sale) => sale.lot === lot) ?? null
  const bought = sales.filter(({ lot }) => !mine.lots.some(({ number }) => number === lot))
  const show = (amount: number) => showMoney(amount, mine.currency)
  return (
    <div className="page stack">
      <h1>My bids</h1>
      <BasketSheet basket={basket} />
      {paddle ? (
        <p>
          Your paddle is number {paddle.number}; it goes to {countryName(paddle.country)} and bids up to {show(paddle.ceilingMinor)}.{' '}
          <Link prefetch={false} href="/paddle?next=/me">
            Change the country
          </Link>
        </p>
      ) : (
        person.role === 'bidder' && (
          <p>
            To bid,{' '}
            <Link prefetch={false} href="/paddle?next=/me">
              take a paddle
            </Link>
            .
          </p>
        )
      )}
      <p>
        <Link prefetch={false} className="alone" href="/me/either-or">
          {sayEitherOrs(mine.eitherOrs.length)}
        </Link>
      </p>
      <p>
        <Link prefetch={false} className="alone" href="/me/told">
          How we tell you: messages, sound, time zone
        </Link>
      </p>
      <p>
        <Link prefetch={false} href="/me/invoices">
          Your invoices
        </Link>
      </p>
      {offers.length > 0 && (
        <p>
          <Link prefetch={false} className="alone" href="/me/offers">
            {asked > 0 ? 'A lot is offered to you: answer it' : 'Offers made to you'}
          </Link>
        </p>
      )}
      {bought.map((sale) => (
        <BoughtSheet key={sale.lot} sale={sale} />
      ))}
      {mine.lots.length === 0 ? (
        <EmptyState
          title="You have not bid yet."
          action={
            <Link prefetch={false} href="/">
              See the lots
            </Link>
          }
        >
          Your bids, and the most they can cost you, will appear here. Nobody else sees them.
        </EmptyState>
      ) : (
        <>
          <FollowLots shown={mine.lots.map(({ number, state, standingMinor, closesAt }) => ({ number, state, standingMinor, closesAt }))} />
          <p className="sheet">
            The most it can all cost you today, including postage: <b>{show(mostOfAll(mine, sales))}</b>
          </p>
          {mine.lots.map((lot) => (
            <MyLotSheet
              key={lot.number}
              lot={lot}
              sale={saleOf(lot.number)}
              zone={campaign.zone}
              country={paddle ? countryName(paddle.country) : ''}
            />
          ))}
          <MyReceipts given={mine.lots.flatMap(({ bids }) => bids.map(({ receipt }) => receipt))} />
        </>
      )}
    </div>
  )
}

function sayEitherOrs(count: number): string {
  if (count === 0) return 'Bid on one lot or another'
  return count === 1 ? 'Your either-or' : `Your ${count} either-ors`
}
