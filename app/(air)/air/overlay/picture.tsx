import type { OverlayName } from '#air/screens/overlay.contract'
import { classes } from '#app/_ui/classes.ts'
import { LotCard } from './card-piece'
import { CauseLine, ClockPiece, NextLots } from './day-pieces'
import { HoldNotice, heldNow, ResultScreen, resultNow } from './end-pieces'
import { MeterPiece } from './meter-piece'
import { CampaignNames, LotNames } from './names-piece'
import styles from './picture.module.css'
import plate from './plate.module.css'
import { PricePiece } from './price-piece'
import { sizeProperties } from './sizes.rules'
import type { OverlayAir } from './use-overlay'

export interface PictureProps {
  air: OverlayAir
  shows: readonly OverlayName[]
  zone: string | null
  /** In the preview a result and a hold are shown as they would look, since there is none most of the time. */
  isExample?: boolean
}

/** A picture of 16:9 with what was asked for, every piece at its own place, so that several lie over each other in a mixer. */
export function Picture({ air, shows, zone, isExample = false }: PictureProps) {
  const has = (name: OverlayName) => shows.includes(name)
  const result = has('result') ? resultNow(air, isExample) : null
  const held = has('hold') ? heldNow(air, isExample) : null
  return (
    <div className={styles.picture} style={sizeProperties()}>
      {result ? (
        <ResultScreen air={air} lot={result} isOverNotice={held !== null} />
      ) : (
        <div className={styles.places}>
          {has('meter') && <MeterPiece meter={air.meter} />}
          {has('next') && <NextLots air={air} zone={zone} />}
          {has('card') && air.view.lot && <LotCard lot={air.view.lot} air={air} hasTag={!has('price')} />}
          {has('credits') ? <CampaignNames air={air} /> : has('names') && air.view.lot && <LotNames lot={air.view.lot.number} air={air} />}
          {has('cause') && <CauseLine air={air} />}
          {has('clock') && <ClockPiece air={air} />}
          {has('price') && <PricePiece air={air} />}
        </div>
      )}
      {held && <HoldNotice air={air} held={held} isBelow={result !== null} />}
      {air.isOld && air.silentFor !== null && (
        <p className={classes(plate.plate, styles.old)}>▲ {Math.round(air.silentFor / 1000)} s old</p>
      )}
    </div>
  )
}
