import type { CheckState } from '#bench/units/current.rules'
import { isDone } from '#bench/units/current.rules'
import { type Bench, nextPermitted, permissions, shortList } from '#bench/units/permitted.rules'
import type { SoakClock } from '#bench/units/soak.rules'
import type { Instant } from '#kernel/instant'
import type { Currency, Minor } from '#kernel/money'
import { mayGoTo, type Restriction } from '#stock/donors/gift.rules'

export interface LotFacts {
  number: number
  state: 'draft' | 'ready' | 'open' | 'held' | 'sold' | 'unsold' | 'withdrawn'
  closesAt: Instant | null
  standingMinor: Minor | null
  bids: number
  currency: Currency
}

export interface RackFacts {
  tag: string
  /** How far the soak that runs has come: "3.4 of 12 h, 2 of 6 cold starts". */
  soak?: SoakClock | null
  bench: Bench
  hasValidCertificate: boolean
  lot: LotFacts | null
  /** What no piece is in hand for, in words, with who has promised it. */
  lacks: string[]
  /** Units of the run on which each check has failed, where there are several. */
  shared?: ReadonlyMap<string, readonly string[]>
}

/** Pieces of one part that a donor has promised and not yet sent, or sent and not yet logged. */
export interface Promised extends Restriction {
  donorName: string
  quantity: number
  isOnItsWay: boolean
}

/** What of `quantity` lacking pieces a unit may count on, what is on its way first; the rest is left for the next unit. */
export function takePromised(
  promises: readonly Promised[],
  unit: { unitId: string; designId: string },
  quantity: number,
): { taken: Promised[]; rest: Promised[] } {
  const taken: Promised[] = []
  const rest: Promised[] = []
  let left = quantity
  for (const promise of promises.toSorted((a, b) => Number(b.isOnItsWay) - Number(a.isOnItsWay))) {
    const takes = mayGoTo(promise, unit) ? Math.min(left, promise.quantity) : 0
    if (takes > 0) taken.push({ ...promise, quantity: takes })
    if (takes < promise.quantity) rest.push({ ...promise, quantity: promise.quantity - takes })
    left -= takes
  }
  return { taken, rest }
}

/** "6 × Display, amber (on their way from Ines Abreu)", "8 × Coil (2 promised by Maro Lindqvist)". */
export function sayLack(quantity: number, part: string, promised: readonly Promised[]): string {
  const said = promised.map((one) => {
    const count = one.quantity === quantity ? '' : `${one.quantity} `
    if (!one.isOnItsWay) return `${count}promised by ${one.donorName}`
    return `${count}on ${one.quantity === 1 ? 'its' : 'their'} way from ${one.donorName}`
  })
  return `${quantity} × ${part}${said.length > 0 ? ` (${said.join(', ')})` : ''}`
}

/** The one thing that comes next for a unit, or stands in its way. */
export interface NextThing {
  tone: 'plain' | 'copper' | 'doubt' | 'bad'
  words: string
}

export function nextThing({ tag, bench, hasValidCertificate, lot, lacks, shared, soak }: RackFacts): NextThing {
  if (lot?.state === 'sold') return { tone: 'plain', words: `lot ${lot.number} is sold` }
  if (bench.setAside !== null) return { tone: 'bad', words: `set aside: ${bench.setAside}` }
  if (lot?.state === 'held') return { tone: 'bad', words: `lot ${lot.number} is on hold` }
  if (lot?.state === 'open')
    return { tone: 'copper', words: `lot ${lot.number} is open, ${lot.bids === 1 ? 'one bid' : `${lot.bids} bids`}` }
  if (hasValidCertificate) return afterTest(lot)
  const title = (key: string) => bench.checks.find((check) => check.key === key)?.title ?? ''
  const failed = bench.checks.find((check) => isFailed(bench.states.get(check.key)))
  if (failed) {
    const others = shared?.get(failed.key)?.filter((one) => one !== tag) ?? []
    const also = others.length > 0 ? `, as on ${shortList(others, 3)}: something common?` : ''
    return { tone: 'bad', words: `${failed.key} failed: ${failed.title}${also}` }
  }
  if (soak)
    return { tone: soak.isOver ? 'copper' : 'doubt', words: `${soak.isOver ? 'soak is over, enter it' : 'soak runs'}: ${soak.words}` }
  const next = nextPermitted(bench)
  if (next?.may === 'release') return { tone: 'doubt', words: `hold point ${next.check} is waiting to be released` }
  const lost = bench.checks.filter((check) => bench.states.get(check.key)?.lost != null).length
  if (next?.may === 'take' && lost > 0) {
    return { tone: 'doubt', words: `${lost === 1 ? 'one check' : `${lost} checks`} to take again; next ${next.check} ${title(next.check)}` }
  }
  if (next?.may === 'take') return { tone: 'plain', words: `next: ${next.check} ${title(next.check)}` }
  if (lacks.length > 0) return { tone: 'doubt', words: `waiting for ${shortList(lacks, 2)}` }
  const empty = bench.positions.filter(({ designator }) => !bench.fitted.has(designator)).map(({ designator }) => designator)
  if (empty.length > 0) return { tone: 'plain', words: `fit ${shortList(empty, 3)}` }
  if (bench.checks.every((check) => isDone(check, bench.states.get(check.key))))
    return { tone: 'copper', words: 'ready for its certificate' }
  const waiting = permissions(bench).find((one) => one.may === 'wait')
  return { tone: 'doubt', words: waiting?.why ?? `nothing more to do on ${tag}` }
}

function afterTest(lot: LotFacts | null): NextThing {
  if (lot?.state === 'ready') return { tone: 'plain', words: `lot ${lot.number} is listed, ready to open` }
  if (lot?.state === 'draft') return { tone: 'doubt', words: `lot ${lot.number} is a draft` }
  if (lot?.state === 'unsold' || lot?.state === 'withdrawn') return { tone: 'doubt', words: `lot ${lot.number} was ${lot.state}` }
  return { tone: 'copper', words: 'tested: make its lot' }
}

const isFailed = (state: CheckState | undefined) => state?.verdict === 'fail' || state?.verdict === 'fail within doubt'
