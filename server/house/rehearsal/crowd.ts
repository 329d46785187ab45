import type { Note } from '#air/rehearsal/rehearsal.contract'
import { type Instant, MINUTE } from '#kernel/instant'
import { plainMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { type Chance, seededChance } from '#kernel/seeded'
import type { Actor } from '#runtime/queue/turn'
import { lotsFrame } from '#sale/bidding/frames.service'
import { placeTypedBid } from '#sale/bidding/place-bid.service'
import { listLots } from '#sale/lots/lots.service'
import type { LateBid } from '#sale/price/late-bid.rules'
import type { House } from '../open/parts'

/** Bids that come a minute, by how near the close is. Invented, as a lively lot may have. */
function bidsAMinute(leftMs: number, { windowMs }: LateBid): number {
  if (leftMs <= windowMs) return 0.9
  if (leftMs <= 10 * MINUTE) return 0.4
  return 0.02
}

export interface Crowd {
  /** Bids as they come by chance in the time from `from` to `now`. */
  bid(from: Instant, now: Instant): void
  /** So many bids at once on the lot that closes next. */
  burst(count: number): void
  /** Bids that have no answer yet. */
  waiting(): number
}

/** Invented bidders. Each has a limit for each lot; what they bid is typed, taken or refused like anybody's. */
export function openCrowd(house: House, people: readonly Actor[], note: (note: Note) => void): Crowd {
  const chance: Chance = seededChance(house.clock.now() % 2 ** 32)
  const pick = (): Actor | undefined => people[Math.floor(chance() * people.length)]

  let waiting = 0

  const place = (lot: number) => {
    const who = pick()
    const sight = house.sight()
    const frame = lotsFrame(sight).lots.find(({ number }) => number === lot)
    if (!who || !frame) return
    const least = frame.leastNextMinor ?? frame.openingMinor ?? 0
    const limit = limitOf(who, lot, listLots(sight).find(({ number }) => number === lot)?.likelyMinor ?? least * 3)
    // Most stay within their limit; a few press a button that is no longer true, as people do.
    const isSlip = chance() < 0.05
    if (limit < least && !isSlip) return
    const maximum = isSlip ? Math.max(1, least - 100) : least + Math.floor(chance() * (limit - least))
    waiting++
    house.queue
      .run((turn) => placeTypedBid(turn, who, { lot, key: turn.dice.id(), maximum: plainMoney(maximum, frame.currency) }))
      .then(
        () => note({ kind: 'bid', lot }),
        (reason: unknown) => {
          if (reason instanceof Refusal) note({ kind: 'refused', lot, words: reason.message.replaceAll(/\d[\d.,:]*/g, '…') })
          else house.log.error({ err: reason }, 'an invented bid failed')
        },
      )
      .finally(() => {
        waiting--
      })
  }

  /** Lots that take bids here; what is sold elsewhere would refuse them all. */
  const open = () => {
    const here = new Set(listLots(house.sight()).flatMap(({ number, soldWhere }) => (soldWhere === 'here' ? number : [])))
    return lotsFrame(house.sight()).lots.filter(({ number, state, closesAt }) => state === 'open' && closesAt !== null && here.has(number))
  }

  return {
    waiting: () => waiting,
    bid(from, now) {
      for (const { number, closesAt, lateBid, extendedTimes } of open()) {
        const expected = (bidsAMinute((closesAt ?? now) - now, lateBid) * 0.8 ** extendedTimes * (now - from)) / MINUTE
        for (let left = expected; chance() < left; left -= 1) place(number)
      }
    },
    burst(count) {
      const next = open().sort((a, b) => (a.closesAt ?? 0) - (b.closesAt ?? 0))[0]
      if (next) for (let times = 0; times < count; times++) place(next.number)
    },
  }
}

/** What a bidder would give for a lot at most: always the same for the two. */
function limitOf({ email }: Actor, lot: number, likelyMinor: number): number {
  const share = seededChance(lot * 1000 + Number(email.match(/\d+/)?.[0] ?? 0))()
  return Math.floor(likelyMinor * (0.3 + 1.2 * share))
}
