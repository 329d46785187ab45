'use client'

import { useRouter } from 'next/navigation'
import { useEffect } from 'react'
import { useLive, useLiveness } from '#app/_trpc/use-live.ts'
import { AsOf } from '#app/_ui/as-of.tsx'
import type { PublicCard } from '#floor/lot-page/lot-page.service'
import type { LotFrame, LotsFrame } from '#sale/bidding/bidding.contract'
import { EndedLots, LotCard } from './lot-card'
import styles from './lots.module.css'
import { countWord } from './say-lot.rules'

const firstUpper = (words: string): string => words.replace(/^./, (first) => first.toUpperCase())

interface LotsBoardProps {
  cards: PublicCard[]
  initial: LotsFrame
  zone: string
}

/** The lots of the campaign: open now, next, over. A lot moves from one to the next by itself as the house says so. */
export function LotsBoard({ cards, initial, zone }: LotsBoardProps) {
  const { lots } = useLive<LotsFrame>('lots', initial)
  const { offset } = useLiveness()
  const router = useRouter()
  const isNew = lots.some(({ number }) => !cards.some((card) => card.number === number))
  useEffect(() => {
    if (isNew) router.refresh()
  }, [isNew, router])
  const shown = lots.flatMap((frame) => {
    const card = cards.find(({ number }) => number === frame.number)
    return card ? [{ card, frame }] : []
  })
  const inState = (...states: LotFrame['state'][]) => shown.filter(({ frame }) => states.includes(frame.state))
  const [open, next, ended] = [inState('open', 'held'), inState('ready'), inState('sold', 'unsold', 'withdrawn')]
  const isToBeHad = ({ frame }: (typeof shown)[number]) => frame.fixedPrice?.is === 'to be had'
  const [toBeHad, over] = [ended.filter(isToBeHad), ended.filter((one) => !isToBeHad(one))]
  return (
    <>
      {open.length > 0 && <AsOf at={initial.serverNow} zone={zone} path="/" />}
      {open.length > 0 && (
        <section className="stack" aria-labelledby="open-now">
          <h2 id="open-now">Open now</h2>
          <div className={styles.grid}>
            {open.map((one, index) => (
              <LotCard key={one.card.number} {...one} zone={zone} offset={offset} isFirst={index === 0} />
            ))}
          </div>
        </section>
      )}
      {next.length > 0 && (
        <section className="stack" aria-labelledby="next">
          <h2 id="next">Next</h2>
          <div className={styles.grid}>
            {next.map((one) => (
              <LotCard key={one.card.number} {...one} zone={zone} offset={offset} isFirst={false} />
            ))}
          </div>
        </section>
      )}
      {toBeHad.length > 0 && (
        <section className="stack" aria-labelledby="to-be-had">
          <h2 id="to-be-had">Can still be had</h2>
          <p className="quiet">
            {toBeHad.length === 1 ? 'One machine goes' : `${firstUpper(countWord(toBeHad.length))} machines go`} at a fixed price, to
            whoever says yes first.
          </p>
          <div className={styles.grid}>
            {toBeHad.map((one) => (
              <LotCard key={one.card.number} {...one} zone={zone} offset={offset} isFirst={false} />
            ))}
          </div>
        </section>
      )}
      {over.length > 0 && (
        <section className="stack" aria-labelledby="over">
          <h2 id="over">The hammer has fallen</h2>
          <EndedLots lots={[...over].reverse()} zone={zone} />
        </section>
      )}
    </>
  )
}
