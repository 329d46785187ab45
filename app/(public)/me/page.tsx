import type { Metadata } from 'next'
import Link from 'next/link'
import { redirect } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import type { Tone } from '#app/_ui/tone.ts'
import { When } from '#app/_ui/when.tsx'
import { countryName } from '#kernel/countries'
import { showMoney } from '#kernel/money'
import type { MyLot } from '#sale/bidding/bidding.contract'
import { FollowLots } from './follow-lots'

export const metadata: Metadata = { title: 'My bids' }

/** Everything a bidder said, and the most that it can cost them today. Made anew for each request and kept nowhere. */
export default async function MyBidsPage() {
  const caller = await api()
  const { person, campaign } = await caller.campaign.shell()
  if (!person) redirect('/sign-in?next=/me')
  if (!campaign) redirect('/')
  const [mine, { paddle }, offers] = await Promise.all([caller.bidding.myBids(), caller.people.myPaddle(), caller.invoices.myOffers()])
  const asked = offers.filter(({ answer, isOver }) => answer === null && !isOver).length
  const show = (amount: number) => showMoney(amount, mine.currency)
  return (
    <div className="page stack">
      <h1>My bids</h1>
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
        <Link prefetch={false} href="/me/either-or">
          {mine.eitherOrs.length === 0 ? 'Bid on either one lot or another' : `Your either-ors, ${mine.eitherOrs.length}`}
        </Link>
      </p>
      {offers.length > 0 && (
        <p>
          <Link prefetch={false} href="/me/offers">
            {asked > 0 ? 'A lot is offered to you: answer it' : 'What was offered to you'}
          </Link>
        </p>
      )}
      {mine.lots.length === 0 ? (
        <EmptyState
          title="You have not bid yet."
          action={
            <Link prefetch={false} href="/">
              See the lots
            </Link>
          }
        >
          What you bid, and the most it can cost you, will stand here. Nobody else sees it.
        </EmptyState>
      ) : (
        <>
          <FollowLots shown={mine.lots.map(({ number, state, standingMinor, closesAt }) => ({ number, state, standingMinor, closesAt }))} />
          <p className="sheet">
            The most that all of it can cost you today, postage included: <b>{show(mine.mostMinor)}</b>
          </p>
          {mine.lots.map((lot) => (
            <MyLotSheet key={lot.number} lot={lot} zone={campaign.zone} country={paddle ? countryName(paddle.country) : ''} />
          ))}
        </>
      )}
    </div>
  )
}

function standOf(lot: MyLot): { tone: Tone; words: string } {
  if (lot.isVoided) return { tone: 'bad', words: 'Voided' }
  if (lot.hasWon) return { tone: 'ok', words: 'Won' }
  if (lot.state === 'sold') return { tone: 'plain', words: 'Lost' }
  if (lot.state === 'unsold') return { tone: 'plain', words: 'Not sold' }
  if (lot.state === 'withdrawn') return { tone: 'plain', words: 'Withdrawn' }
  return lot.leads ? { tone: 'ok', words: 'You lead' } : { tone: 'bad', words: 'Outbid' }
}

function MyLotSheet({ lot, zone, country }: { lot: MyLot; zone: string; country: string }) {
  const show = (amount: number) => showMoney(amount, lot.currency)
  const { tone, words } = standOf(lot)
  const price = lot.hammerMinor ?? lot.standingMinor
  const postage = lot.postageMinor === null ? '' : `, with ${show(lot.postageMinor)} postage to ${country}`
  return (
    <Tag code={`Lot ${lot.number} · ${lot.unit}`} href={`/lots/${lot.number}`} aside={<Chip tone={tone}>{words}</Chip>}>
      <div className="stack close">
        <h2>{lot.title}</h2>
        <p>
          {price !== null && (lot.hammerMinor === null ? `Stands at ${show(price)}. ` : `The hammer fell at ${show(price)}. `)}
          {lot.mostMinor > 0 && `${lot.hasWon ? 'You owe' : 'It can cost you at most'} ${show(lot.mostMinor)}${postage}. `}
          {(lot.state === 'open' || lot.state === 'held') && lot.closesAt !== null && (
            <>
              Closes <When at={lot.closesAt} zone={zone} />.
            </>
          )}
        </p>
        {lot.hasWon && (
          <p>
            <Link prefetch={false} href={`/me/won/${lot.number}`}>
              Pay it, say where it goes, follow it
            </Link>
          </p>
        )}
        <p className="small quiet">
          Your alias here is {lot.alias}.{lot.isInEitherOr && ' It stands in an either-or, and is counted with that.'}
        </p>
        <details>
          <summary>
            What you said, {lot.bids.length} {lot.bids.length === 1 ? 'time' : 'times'}
          </summary>
          <table className="cards">
            <caption className="visually-hidden">Your bids on lot {lot.number}</caption>
            <thead>
              <tr>
                <th scope="col">Bid</th>
                <th scope="col">When</th>
                <th scope="col" className="num">
                  The most you would pay
                </th>
                <th scope="col">Opens the seal</th>
              </tr>
            </thead>
            <tbody>
              {lot.bids.map(({ sequence, at, maximumMinor, receipt }) => (
                <tr key={sequence}>
                  <th scope="row">{sequence}</th>
                  <td data-label="When">
                    <When at={at} zone={zone} show="both" brief />
                  </td>
                  <td data-label="The most you would pay" className="num">
                    {show(maximumMinor)}
                  </td>
                  <td
                    data-label="Opens the seal"
                    className="code"
                    style={{ overflowWrap: 'anywhere', textTransform: 'none', letterSpacing: 0 }}
                  >
                    {receipt.opening.nonce}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      </div>
    </Tag>
  )
}
