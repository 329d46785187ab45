import { Chip } from '#app/_ui/chip.tsx'
import { showMoney } from '#kernel/money'
import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'
import styles from './lot.module.css'

interface YourSideProps {
  frame: LotFrame
  side: MySide
  alias: string
  isOutbidSaid: boolean
  isShown: boolean
  /** The form to raise it is there already. */
  isRaising: boolean
  onShow: (isShown: boolean) => void
}

/** Where the reader stands. Their own maximum stays hidden until asked for: screens are shared. */
export function YourSide({ frame, side, alias, isOutbidSaid, isShown, isRaising, onShow }: YourSideProps) {
  const leads = frame.leaderAlias === alias
  const words = leads && !isRaising ? 'Show or raise my maximum' : 'Show my maximum'
  return (
    <div className="stack close">
      <p>
        {!isOutbidSaid && (
          <span className={styles.saidAbove}>
            <Chip tone={leads ? 'ok' : 'bad'}>{leads ? 'You lead' : 'You are outbid'}</Chip>{' '}
          </span>
        )}
        <span className="small quiet">Your alias here is {alias}.</span>
      </p>
      {side.maximumMinor !== null && (
        <button type="button" className="button-line" aria-expanded={isShown} onClick={() => onShow(!isShown)}>
          {isShown ? `Your maximum is ${showMoney(side.maximumMinor, frame.currency)}. Hide it` : words}
        </button>
      )}
    </div>
  )
}
