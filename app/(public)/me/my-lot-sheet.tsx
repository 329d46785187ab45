import { Chip } from '#app/_ui/chip.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import type { Tone } from '#app/_ui/tone.ts'
import { When } from '#app/_ui/when.tsx'
import { showMoney } from '#kernel/money'
import type { MySale } from '#money/invoices/invoices.contract'
import type { MyLot } from '#sale/bidding/bidding.contract'
import { SaleWords } from './bought-sheet'

interface MyLotSheetProps {
  lot: MyLot
  /** What they bought it by; null where they did not. */
  sale: MySale | null
  zone: string
  country: string
}

/** One lot of a bidder’s: how it stands for them, what it can cost them, and all that they said. */
export function MyLotSheet({ lot, sale, zone, country }: MyLotSheetProps) {
  const show = (amount: number) => showMoney(amount, lot.currency)
  const { tone, words } = standOf(lot, sale)
  const postage = lot.postageMinor === null ? '' : `, with ${show(lot.postageMinor)} postage to ${country}`
  return (
    <Tag code={`Lot ${lot.number} · ${lot.unit}`} href={`/lots/${lot.number}`} aside={<Chip tone={tone}>{words}</Chip>}>
      <div className="stack close">
        <h2>{lot.title}</h2>
        <p>
          {sayPrice(lot, show)}
          {sale === null && lot.mostMinor > 0 && `It can cost you at most ${show(lot.mostMinor)}${postage}. `}
          {lot.state === 'held' && 'Its clock is stopped. '}
          {lot.state === 'open' && lot.closesAt !== null && (
            <>
              Closes <When at={lot.closesAt} zone={zone} />.
            </>
          )}
        </p>
        {sale && <SaleWords sale={sale} />}
        <p className="small quiet">
          Your alias here is {lot.alias}.{lot.isInEitherOr && ' It is part of an either-or and is counted with that.'}
        </p>
        <WhatYouSaid lot={lot} zone={zone} />
      </div>
    </Tag>
  )
}

function WhatYouSaid({ lot, zone }: { lot: MyLot; zone: string }) {
  return (
    <details>
      <summary>
        {lot.bids.length === 1 ? 'Your bid, and what opens its seal' : `Your ${lot.bids.length} bids, and what opens their seals`}
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
                {showMoney(maximumMinor, lot.currency)}
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
  )
}

/** What it costs, or ended at: "stands" only while it does. */
function sayPrice({ state, hammerMinor, standingMinor }: MyLot, show: (amount: number) => string): string {
  if (hammerMinor !== null) return `The hammer fell at ${show(hammerMinor)}. `
  if (standingMinor === null || state === 'withdrawn') return ''
  return state === 'unsold' ? `It reached ${show(standingMinor)}, less than its reserve. ` : `Stands at ${show(standingMinor)}. `
}

function standOf(lot: MyLot, sale: MySale | null): { tone: Tone; words: string } {
  if (sale && !sale.stands) return { tone: 'bad', words: 'Fell through' }
  if (sale && sale.by !== 'hammer') return { tone: 'ok', words: 'Bought' }
  if (lot.isVoided) return { tone: 'bad', words: 'Voided' }
  if (lot.hasWon) return { tone: 'ok', words: 'Won' }
  if (lot.state === 'sold') return { tone: 'plain', words: 'Lost' }
  if (lot.state === 'unsold') return { tone: 'plain', words: 'Not sold' }
  if (lot.state === 'withdrawn') return { tone: 'plain', words: 'Withdrawn' }
  return lot.leads ? { tone: 'ok', words: 'You lead' } : { tone: 'bad', words: 'Outbid' }
}
