import type { inferRouterOutputs } from '@trpc/server'
import Link from 'next/link'
import { Chip } from '#app/_ui/chip.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { When } from '#app/_ui/when.tsx'
import type { RootRouter } from '#doors/trpc/root'
import { type Currency, showMoney } from '#kernel/money'
import { countWords } from '#stock/donors/count-words.rules'
import styles from './batch-sheet.module.css'
import { CountForms } from './count-forms'
import { OtherPartForm } from './other-part-form'
import { PriceForm } from './price-form'
import { Quarantine } from './quarantine'
import { Sampling } from './sampling'
import { VerdictOfPiece } from './verdict-of-piece'
import { WhomToTell } from './whom-to-tell'

type Answers = inferRouterOutputs<RootRouter>
type PartPage = Answers['buildable']['part']

interface BatchSheetProps {
  batch: PartPage['batches'][number]
  donor: { id: string; name: string } | null
  sampling: PartPage['sampling'][number] | undefined
  notices: Answers['quarantine']['notices']
  changes: PartPage['changes']
  touched: Answers['quarantine']['touches']
  /** Other parts of the same kind, for a bag that was logged as the wrong one. */
  others: { id: string; words: string }[]
  zone: string
  isMaker: boolean
  /** A price of its own, before that of its part. */
  price: PartPage['batchPrices'][string] | null
  currency: Currency
}

/** One batch: whence it came, where it went, its pieces, and what can be done with it. */
export function BatchSheet({ batch, donor, sampling, notices, changes, touched, others, zone, isMaker, price, currency }: BatchSheetProps) {
  const fittedIn = [...new Set(batch.fittedAt.map((held) => held.tag))]
  const isOut = batch.state === 'quarantined'
  return (
    <article id={batch.code} className={styles.batch}>
      <Tag
        code={batch.code}
        tone={isOut ? 'bad' : 'plain'}
        aside={isOut ? <Chip tone="bad">Quarantined</Chip> : batch.isBarred && <Chip tone="bad">Rejected by its plan</Chip>}
      >
        <b>{batch.howCounted === 'not yet' ? 'Not counted yet' : `${batch.inHand} of ${countWords(batch)} in hand`}</b>
        <span className="small">
          {donor ? (
            <>
              Given by <Link href={`/bench/donors/${donor.id}`}>{donor.name}</Link>
            </>
          ) : (
            `Bought from ${batch.boughtFrom}`
          )}
          , <When at={batch.at} zone={zone} show="day" brief />
          {batch.marking !== '' && (
            <>
              , marked <span className="code several">{batch.marking}</span>
            </>
          )}
          {batch.dateCode !== '' && (
            <>
              , date code <span className="code several">{batch.dateCode}</span>
            </>
          )}
          {batch.bad > 0 && `, ${batch.bad} bad`}
          {batch.place !== '' && `, in ${batch.place}`}
        </span>
      </Tag>
      {isOut && (
        <p>
          <b>Set aside:</b> {batch.reason}
        </p>
      )}
      {fittedIn.length > 0 && (
        <div className="row">
          Fitted in{' '}
          {fittedIn.map((tag) => (
            <Tag key={tag} size="small" code={tag} href={`/bench/units/${tag}`} />
          ))}
        </div>
      )}
      {batch.loose.length > 0 && (
        <details open={batch.loose.length <= 4}>
          <summary>{batch.loose.length === 1 ? '1 piece with a tag' : `${batch.loose.length} pieces with tags`}, in no unit</summary>
          <ul className={`plain-list ${styles.pieces}`}>
            {batch.loose.map((piece) => (
              <li key={piece.id} className="row apart">
                <Link className="code" href={`/bench/pieces/${encodeURIComponent(piece.tag)}`}>
                  {piece.tag}
                </Link>
                <VerdictOfPiece verdict={piece.verdict} programmed={batch.part.programmed} />
              </li>
            ))}
          </ul>
        </details>
      )}
      {changes.length > 0 && (
        <details>
          <summary>What was changed</summary>
          <ul className={`${styles.history} small`}>
            {changes.map((change) => (
              <li key={change.id}>
                {change.what === 'state' ? change.now : `${change.what === 'bad' ? 'bad' : 'counted'} ${change.was} → ${change.now}`}:{' '}
                {change.reason}, <When at={change.at} zone={zone} brief />
              </li>
            ))}
          </ul>
        </details>
      )}
      {sampling && <Sampling card={sampling} code={batch.code} quantity={batch.quantity} isMaker={isMaker} />}
      {notices.length > 0 && <WhomToTell notices={notices} zone={zone} />}
      <p className="row small">
        {batch.loose.length > 0 && <a href={`/bench/labels/${batch.code}.pdf`}>Labels of its pieces (PDF, A4)</a>}
        <a href={`/bench/labels/${batch.code}.pdf?of=bag`}>Label of the bag (PDF)</a>
      </p>
      <CountForms batchId={batch.id} code={batch.code} quantity={batch.quantity} bad={batch.bad} place={batch.place} />
      <details>
        <summary>
          {price
            ? `Its pieces cost ${showMoney(price.minor, currency)} for ${price.pieces === 1 ? 'one' : price.pieces} to buy again`
            : 'Give this batch a price of its own'}
        </summary>
        <PriceForm of={{ batchId: batch.id }} name={batch.code} price={price} currency={currency} />
      </details>
      {batch.fitted === 0 && batch.loose.length === 0 && <OtherPartForm batchId={batch.id} code={batch.code} parts={others} />}
      {isMaker && (
        <Quarantine
          batchId={batch.id}
          code={batch.code}
          isOut={isOut}
          touched={touched}
          inHand={batch.inHand}
          donorName={donor?.name ?? null}
        />
      )}
    </article>
  )
}
