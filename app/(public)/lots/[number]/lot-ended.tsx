import Link from 'next/link'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'
import type { LotPage } from '#floor/lot-page/lot-page.service'
import { showMoney } from '#kernel/money'
import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'
import { fellThrough } from '#sale/price/result.rules'

interface LotEndedProps {
  frame: LotFrame
  page: Pick<LotPage, 'zone' | 'like'>
  side: MySide | null
  alias: string | null
  countryName: string
}

/** How it ended for a reader who bid: what a win costs and where it is paid, or which lot like it is still to come. */
export function LotEnded({ frame, page, side, alias, countryName }: LotEndedProps) {
  const show = (amount: number) => showMoney(amount, frame.currency)
  if (frame.state !== 'sold' || frame.hammerMinor === null || alias === null) return null
  const next = page.like.find(({ closesAt }) => closesAt > frame.serverNow)
  if (frame.voidedAliases.includes(alias)) return <p>Your bids on this lot were voided by the house. You owe nothing for it.</p>
  if (frame.leaderAlias !== alias)
    return (
      <Notice tone="info" title="You did not win this one" live="status">
        Somebody else’s maximum was higher. You owe nothing for it.
        {next && (
          <>
            {' '}
            The nearest like it is{' '}
            <Link prefetch={false} href={`/lots/${next.number}`}>
              lot {next.number}, {next.title}
            </Link>
            , which closes <When at={next.closesAt} zone={page.zone} />.
            <span className="row">
              <Link prefetch={false} className="button" href={`/lots/${next.number}#bid`}>
                Bid on lot {next.number}
              </Link>
              <Link prefetch={false} className="button-line" href={`/me/either-or?lot=${next.number}`}>
                Bid on either that one or another
              </Link>
            </span>
          </>
        )}
      </Notice>
    )
  if (fellThrough(frame))
    return (
      <Notice tone="info" title="You won it, and the sale fell through">
        You owe nothing for it.
      </Notice>
    )
  const postage = side?.postageMinor ?? null
  return (
    <Notice tone="ok" live="status" title={`You won it at ${show(frame.hammerMinor)}`}>
      {postage !== null && `With postage to ${countryName}: ${show(frame.hammerMinor + postage)}. `}
      How to pay is in the email.{' '}
      <Link prefetch={false} href={`/me/won/${frame.number}`}>
        Pay, and say where to send it
      </Link>
    </Notice>
  )
}
