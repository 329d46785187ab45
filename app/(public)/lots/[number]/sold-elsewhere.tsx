import type { LotFrame } from '#sale/bidding/bidding.contract'

/** Sold under another address: the closing, the record and the credits are here, the bidding is there. */
export function SoldElsewhere({ frame, url, source }: { frame: LotFrame; url: string; source: string | null }) {
  const host = new URL(url).host
  const isWaiting = frame.state === 'open' && frame.closesAt !== null && frame.closesAt <= frame.serverNow
  return (
    <div className="stack close">
      {frame.state === 'sold' || frame.state === 'unsold' ? (
        <p>
          It was offered at {host}. {source && `The result was entered by hand; its source: ${source}`}
        </p>
      ) : isWaiting ? (
        <p>It has closed at {host}. Its result is entered here by hand as soon as it is known.</p>
      ) : (
        <p>This lot is sold elsewhere, with the same closing, credits and record.</p>
      )}
      <a className="button-line" href={url} rel="noreferrer">
        {frame.state === 'open' && !isWaiting ? `Bid at ${host}` : `See it at ${host}`}
      </a>
    </div>
  )
}
