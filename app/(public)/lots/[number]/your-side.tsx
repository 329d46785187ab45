'use client'

import { useState } from 'react'
import type { LotFrame, MySide } from '../../../../server/bidding/bidding.contract'
import { showMoney } from '../../../../server/kernel/money'
import { Chip } from '../../../_ui/chip'

/** Where the reader stands. Their own maximum stays hidden until asked for: screens are shared. */
export function YourSide({ frame, side, alias }: { frame: LotFrame; side: MySide; alias: string }) {
  const [isShown, setShown] = useState(false)
  const leads = frame.leaderAlias === alias
  return (
    <div className="row apart">
      <p>
        <Chip tone={leads ? 'ok' : 'bad'}>{leads ? 'You lead' : 'You are outbid'}</Chip>{' '}
        <span className="small quiet">Your alias here is {alias}.</span>
      </p>
      {side.maximumMinor !== null && (
        <button type="button" className="button-line" aria-expanded={isShown} onClick={() => setShown(!isShown)}>
          {isShown ? `You allow ${showMoney(side.maximumMinor, frame.currency)}. Hide` : 'Show my maximum'}
        </button>
      )}
    </div>
  )
}
