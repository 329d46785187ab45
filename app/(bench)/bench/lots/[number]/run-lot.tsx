import type { LotCard } from '#sale/lots/lots.contract'
import { fellThrough } from '#sale/price/result.rules'
import type { LateLot } from '#sale/programme/programme.contract'
import { CorrectLot } from './correct-lot'
import { ExtendLot, HoldLot, ResumeLot } from './hold-and-extend'
import { NobodyHasIt } from './nobody-has-it'
import { OpenLot, ShowLot, WithdrawLot } from './open-and-withdraw'
import { ResultElsewhere } from './result-elsewhere'

interface RunLotProps {
  card: LotCard
  role: 'maker' | 'host'
  isGateOpen: boolean
  /** What its machine lacks and gets too late; null where it will be ready. */
  late: LateLot | null
}

const isFree = (card: LotCard): boolean =>
  card.state === 'unsold' || card.state === 'withdrawn' || (card.state === 'sold' && fellThrough(card))

/** What can be done to a lot in the state in which it is. */
export function RunLot({ card, role, isGateOpen, late }: RunLotProps) {
  const isUnopened = card.state === 'draft' || card.state === 'ready'
  const isRunning = card.state === 'open' || card.state === 'held'
  if (!isUnopened && !isRunning) return role === 'maker' && isFree(card) ? <NobodyHasIt card={card} /> : null
  return (
    <section className="stack" aria-label="Run the lot">
      <div className="row">
        {role === 'maker' && card.state === 'draft' && <ShowLot lot={card.number} late={late} />}
        {role === 'maker' && isUnopened && isGateOpen && <OpenLot card={card} />}
        {card.state === 'open' && card.soldWhere === 'here' && <HoldLot card={card} />}
        {card.state === 'held' && <ResumeLot card={card} />}
        {isRunning && card.soldWhere === 'here' && <ExtendLot card={card} />}
        {role === 'maker' && <WithdrawLot card={card} />}
      </div>
      {role === 'maker' && isRunning && card.soldWhere === 'here' && <CorrectLot card={card} />}
      {role === 'maker' && card.state === 'open' && card.soldWhere === 'elsewhere' && <ResultElsewhere card={card} />}
    </section>
  )
}
