import type { BidAnswer } from '#sale/bids/bids.contract'
import { dataOf, type Hand, type Heard } from './hand'
import { pause } from './trial'
import type { Work } from './work'

/** Does something so many times a second, whether or not what came before has been answered; gives how often it was begun. */
export async function atRate(aSecond: number, seconds: number, work: () => void): Promise<number> {
  const began = performance.now()
  let done = 0
  while (performance.now() - began < seconds * 1000) {
    const due = Math.floor(((performance.now() - began) / 1000) * aSecond)
    for (; done < due; done++) work()
    await pause(2)
  }
  return done
}

/** Bids at a rate for some seconds, and waits for every answer: how long each took, and how many were taken. */
export async function bidAtRate(work: Work, hand: Hand, aSecond: number, seconds: number) {
  const waits: number[] = []
  const bids: Promise<unknown>[] = []
  let taken = 0
  let refused = 0
  const note = (bid: { heard: Heard | null } | null) => {
    if (!bid?.heard) return
    waits.push(bid.heard.waited)
    if (dataOf<BidAnswer>(bid.heard)) taken += 1
    else refused += 1
  }
  const sent = await atRate(aSecond, seconds, () => bids.push(work.bid(hand).then(note)))
  await Promise.all(bids)
  return { waits, sent, taken, refused }
}
