import { When } from '#app/_ui/when.tsx'
import { lotsInWords } from '#money/journal/lot-words.rules'
import type { MyParcel } from '#money/sending/sending.contract'
import { ArrivedForm } from './arrived-form'

/** From the bench to the buyer's door: what it waits for, with whom it went, whether it came. */
export function Way({ mine, zone, lot }: { mine: MyParcel; zone: string; lot: number }) {
  const beside = mine.beside.length > 0 && <p>It goes in one parcel with {lotsInWords(mine.beside)}.</p>
  if (mine.sentAt === null) {
    if (mine.stage === 'unpaid') return <p>We pack it once it is paid.</p>
    if (mine.stage === 'no address') return <p>It is paid. Tell us where to send it, and we will pack it.</p>
    return (
      <>
        <p>
          {mine.packed} of {mine.items} things are in the parcel. You get an email when it leaves.
        </p>
        {beside}
      </>
    )
  }
  return (
    <>
      {beside}
      <p>
        It left with {mine.carrier} <When at={mine.sentAt} zone={zone} />
        {mine.tracking !== '' && (
          <>
            , number <span className="code several">{mine.tracking}</span>
          </>
        )}
        . {mine.trackingUrl !== '' && <a href={mine.trackingUrl}>Follow it</a>}
      </p>
      {mine.arrivedAt === null ? (
        <ArrivedForm lot={lot} />
      ) : (
        <p>
          It has arrived, <When at={mine.arrivedAt} zone={zone} />.
        </p>
      )}
    </>
  )
}
