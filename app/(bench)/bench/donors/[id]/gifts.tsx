import { EmptyState } from '#app/_ui/empty-state.tsx'
import { When } from '#app/_ui/when.tsx'
import type { DonorPage } from '#gifts/outcome/donor-page.service'
import { becameWords } from '#gifts/outcome/thanks-letter.rules'
import { type Currency, showMoney } from '#kernel/money'
import { DeclineGift } from '../decline-gift'
import styles from './donor.module.css'
import { GiftHistory } from './gift-history'
import { onlyForValue, onlyForWords } from './only-for.rules'
import { PutRight, type PutRightProps } from './put-right'

interface GiftsProps {
  page: DonorPage
  goals: PutRightProps['goals']
  campaign: { name: string; zone: string; currency: Currency | null }
  /** Only the maker declines a promise. */
  mayDecline: boolean
}

/** Everything that a donor gave or promised: what became of it, what was changed, and what can be put right. */
export function Gifts({ page: { donor, gifts, became, changes, withLots }, goals, campaign, mayDecline }: GiftsProps) {
  const becameOf = new Map(became.map((row) => [row.giftId, row]))
  const lotOf = new Map(withLots.map(({ giftId, number }) => [giftId, number]))
  const letter = { name: donor.name, campaign: campaign.name, hasMail: donor.contact !== '' }
  return (
    <section className="sheet" aria-labelledby="gifts">
      <h2 id="gifts">Gifts</h2>
      {gifts.length === 0 && <EmptyState title="Nothing has been given or promised yet." />}
      {gifts.map((line) => {
        const now = becameOf.get(line.id)
        const isOpen = line.state === 'promised' || line.state === 'on its way'
        return (
          <div key={line.id} className={styles.gift}>
            <p>
              <b>{headOf(line, now, campaign.currency)}</b> {now?.batchCode && <span className="code">{now.batchCode}</span>}
            </p>
            <p className="small quiet">
              <WhereItStands line={line} zone={campaign.zone} goals={goals} lot={lotOf.get(line.id) ?? null} />
            </p>
            <GiftHistory changes={changes.filter(({ giftId }) => giftId === line.id)} zone={campaign.zone} />
            <div className="row">{mayDecline && isOpen && <DeclineGift giftId={line.id} what={line.what} {...letter} />}</div>
            <PutRight
              gift={{ ...line, onlyFor: onlyForValue(line), batchId: now?.batchId ?? null }}
              {...letter}
              goals={goals}
              withLot={lotOf.get(line.id) ?? null}
            />
          </div>
        )
      })}
    </section>
  )
}

type Line = DonorPage['gifts'][number]

function headOf(line: Line, now: DonorPage['became'][number] | undefined, currency: Currency | null): string {
  if (line.amountMinor !== null && currency !== null) return `${showMoney(line.amountMinor, currency)}, ${line.what}`
  return now && line.arrivedAt !== null ? becameWords(now) : `${line.quantity} × ${line.what}`
}

/** "counted, came on 3 March, only for TERN-03, goes with lot 4, thanked for". */
function WhereItStands({ line, zone, goals, lot }: { line: Line; zone: string; goals: GiftsProps['goals']; lot: number | null }) {
  const { state, promisedAt, arrivedAt, thankedAt } = line
  return (
    <>
      {state}
      {promisedAt !== null && (
        <>
          , promised on <When at={promisedAt} zone={zone} show="day" brief />
        </>
      )}
      {arrivedAt !== null && (
        <>
          , came on <When at={arrivedAt} zone={zone} show="day" brief />
        </>
      )}
      {(line.onlyForUnitId !== null || line.onlyForDesignId !== null) && `, ${onlyForWords(goals, line)}`}
      {lot !== null && `, goes with lot ${lot}`}
      {arrivedAt !== null && (thankedAt === null ? ', not thanked for yet' : ', thanked for')}
    </>
  )
}
