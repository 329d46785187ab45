'use client'

import { useLive, useLiveness } from '#app/_trpc/use-live.ts'
import { useHouseNow } from '#app/_ui/use-house-now.ts'
import { When } from '#app/_ui/when.tsx'
import type { Instant } from '#kernel/instant'
import type { LotsFrame } from '#sale/bidding/bidding.contract'
import type { Programme } from '#sale/programme/programme.contract'
import { countWord } from './say-lot.rules'

const firstUpper = (words: string): string => words.replace(/^./, (first) => first.toUpperCase())

interface NextDayProps {
  programme: Programme
  lots: LotsFrame
  serverNow: Instant
}

/** When the campaign streams next, and what can be had meanwhile; nothing once all of it is over. */
export function NextDay({ programme: initial, lots: firstLots, serverNow }: NextDayProps) {
  const programme = useLive<Programme>('programme', initial)
  const { lots } = useLive<LotsFrame>('lots', firstLots)
  const { offset } = useLiveness()
  const now = useHouseNow(serverNow, null, offset)
  const days = [programme, ...programme.others].sort((a, b) => a.opensAt - b.opensAt)
  const next = days.find(({ closesAt }) => closesAt > now)
  const toBeHad = lots.filter(({ fixedPrice }) => fixedPrice?.is === 'to be had').length
  const closings = next?.items.filter(({ kind, isOver }) => kind === 'closing' && !isOver).length ?? 0
  const { zone } = programme
  if (!next && toBeHad === 0) return null
  return (
    <p>
      {next && next.opensAt > now && (
        <>
          {next.number === 1 ? 'The stream begins on ' : 'The next stream day is '}
          <When at={next.opensAt} zone={zone} />
          {closings > 0 && `, with ${closings === 1 ? 'one closing' : `${countWord(closings)} closings`} announced`}.{' '}
        </>
      )}
      {next && next.opensAt <= now && (
        <>
          The stream is on until <When at={next.closesAt} zone={zone} />.{' '}
        </>
      )}
      {toBeHad > 0 && (
        <>
          {!next && 'The stream is over. '}
          <a className="alone" href="#to-be-had">
            {toBeHad === 1 ? 'One machine' : `${firstUpper(countWord(toBeHad))} machines`} can be had at a fixed price
          </a>{' '}
          without waiting for a closing.
        </>
      )}
    </p>
  )
}
