import { Chip } from '#app/_ui/chip.tsx'
import { Countdown } from '#app/_ui/countdown.tsx'
import { PhotoFrame } from '#app/_ui/photo-frame.tsx'
import { Strip } from '#app/_ui/strip.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { When } from '#app/_ui/when.tsx'
import type { PublicCard } from '#floor/lot-page/lot-page.service'
import { showMoney } from '#kernel/money'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import { sayClosing, sayFixedDay } from '#sale/fixed-price/fixed-price-words.rules'
import { fellThrough } from '#sale/price/result.rules'
import styles from './lots.module.css'
import { countdownState, sayBids, sayElsewhere, sayReserve, sayStanding } from './say-lot.rules'

interface LotCardProps {
  card: PublicCard
  frame: LotFrame
  zone: string
  offset: number | undefined
  isFirst: boolean
}

/** A lot as a tag on its hook: what it is, how far it has come, what it costs and how long. */
export function LotCard({ card, frame, zone, offset, isFirst }: LotCardProps) {
  const { photograph } = card
  const reserve = sayReserve(frame.reserve)
  return (
    <Tag
      code={`Lot ${card.number} · ${card.unit}`}
      href={`/lots/${card.number}`}
      tone={frame.state === 'open' || frame.fixedPrice?.is === 'to be had' ? 'copper' : 'plain'}
      aside={<StateChip frame={frame} />}
    >
      <div className={styles.card}>
        {photograph && (
          <div>
            <PhotoFrame {...photograph} caption={undefined} alt="" shape="wide" sizes="(max-width: 639px) 100vw, 360px" first={isFirst} />
          </div>
        )}
        <div className={styles.words}>
          <h3>{card.title}</h3>
          <p>
            <b className={styles.price}>{card.soldWhere === 'elsewhere' ? sayElsewhere(frame) : sayStanding(frame)}</b>
          </p>
          <p className="small quiet">
            {frame.fixedPrice
              ? sayFixedDay(frame.fixedPrice, zone).replace(/^b/, 'B')
              : [
                  frame.state === 'ready' || card.soldWhere === 'elsewhere' ? null : sayBids(frame.bids),
                  frame.state === 'ready' ? null : reserve,
                ]
                  .filter(Boolean)
                  .join(', ')}
          </p>
          {frame.fixedPrice ? (
            <p className="small quiet">{sayClosing(frame, frame.currency)}</p>
          ) : frame.state === 'ready' ? (
            <p className="small">
              {frame.closesAt === null ? (
                'Its closing time is not set yet.'
              ) : (
                <>
                  Closes <When at={frame.closesAt} zone={zone} />
                </>
              )}
            </p>
          ) : (
            <div className={styles.clock}>
              <Countdown
                closesAt={frame.closesAt}
                serverNow={frame.serverNow}
                offset={offset}
                zone={zone}
                state={countdownState(frame.state)}
                heldSince={frame.heldSince}
                lateBid={frame.lateBid}
              />
            </div>
          )}
        </div>
        {card.reached && (
          <div>
            <Strip reached={frame.state === 'sold' && frame.fixedPrice === null ? 5 : card.reached} name={card.unit} />
          </div>
        )}
      </div>
    </Tag>
  )
}

export function StateChip({ frame }: { frame: LotFrame }) {
  if (frame.state === 'held') return <Chip tone="doubt">On hold</Chip>
  if (frame.state === 'open') return <Chip tone="copper">Open</Chip>
  if (frame.fixedPrice) return frame.fixedPrice.is === 'sold' ? <Chip tone="ok">Sold</Chip> : <Chip tone="copper">Can be had</Chip>
  if (frame.state === 'sold') return fellThrough(frame) ? <Chip tone="plain">Not sold in the end</Chip> : <Chip tone="ok">Sold</Chip>
  return null
}

/** A lot that is over, in one line. */
function EndedLot({ card, frame, zone }: Pick<LotCardProps, 'card' | 'frame' | 'zone'>) {
  return (
    <li className={styles.ended}>
      <Tag code={`Lot ${card.number}`} href={`/lots/${card.number}`} size="small" />
      <span className={styles.endedTitle}>{card.title}</span>
      <b className={styles.endedPrice}>
        {frame.fixedPrice === null && frame.state === 'sold' && frame.hammerMinor !== null && frame.standsMinor === undefined
          ? showMoney(frame.hammerMinor, frame.currency, { short: true })
          : card.soldWhere === 'elsewhere'
            ? sayElsewhere(frame)
            : sayStanding(frame)}
      </b>
      <span className="small quiet">{frame.endedAt !== null && <When at={frame.endedAt} zone={zone} show="time" brief />}</span>
    </li>
  )
}

/** Lots that are over, one below the other. */
export function EndedLots({ lots, zone }: { lots: Pick<LotCardProps, 'card' | 'frame'>[]; zone: string }) {
  return (
    <ul className={`plain-list ${styles.list}`}>
      {lots.map((one) => (
        <EndedLot key={one.card.number} {...one} zone={zone} />
      ))}
    </ul>
  )
}
