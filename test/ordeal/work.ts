import { createHash } from 'node:crypto'
import { join } from 'node:path'
import sharp from 'sharp'
import type { Chance } from '#kernel/seeded'
import { verifyHistory } from '#test/verifier/verify-history'
import type { Furnished } from './furnish'
import { dataOf, type Hand, type Heard, wordsOf } from './hand'
import { type Fault, judge, openRecord, type Standing } from './record'
import { between, Lie, noteFile, pick, type Trial } from './trial'

interface Placed {
  receipt: { index: number; leaf: { kind: string; sequence: number } }
  standingMinor: number
  closesAt: number
}
interface Journal {
  journal: { reference: string; memo: string }[]
}
interface Happened {
  kind: string
  words: string
}
interface Told {
  leaves: { kind: string; at: string }[]
}

/** Sends the same once more, just as it was. */
type Again = (hand: Hand) => Promise<Heard | null>

export const someAddress = (chance: Chance): string => `2001:db8:${between(chance, 1, 65_000).toString(16)}:1::1`

/**
 * What people do in a house, and the client's own record of it: bids, gifts of money, readings and photographs, each under a
 * key of its own. `check` holds the record against what the house shows to anybody who asks it.
 */
export function openWork(trial: Pick<Trial, 'dir' | 'chance'>, house: Furnished) {
  const { chance } = trial
  const record = openRecord(noteFile(join(trial.dir, 'record.jsonl')))
  const again = new Map<string, Again>()
  /** Where a bid said that it stands: its lot, the place in its history, and the entry. */
  const places = new Map<string, { lot: number; index: number; leaf: string }>()
  const gifts = new Set<string>()
  /** The key of each, by its unit and what was read. */
  const readings = new Map<string, string>()
  const pictures = new Map<string, string>()
  const highest = new Map(house.lots.map(({ number }) => [number, 2_000]))
  /** When each bidder bid last on each lot: the house takes twelve a minute. */
  const lately = new Map<string, number[]>()
  let count = 0
  const nextKey = (kind: string) => `${kind}-${String(++count).padStart(12, '0')}`

  const hear = (key: string, heard: Heard | null) => {
    const place = key.startsWith('bid-') ? dataOf<Placed>(heard)?.receipt : undefined
    const lot = place && JSON.parse(heard?.text ?? '').result.data.lot
    if (place) places.set(key, { lot, index: place.index, leaf: JSON.stringify(place.leaf) })
    if (heard && heard.status < 300) record.answered(key)
    return heard
  }
  const send = async (key: string, what: object, how: Again, hand: Hand) => {
    again.set(key, how)
    record.ask(key, what)
    return hear(key, await how(hand))
  }

  return {
    record,
    /** A bid that is high enough unless another comes before it; null where nobody may bid just now. */
    async bid(hand: Hand, onLot?: number): Promise<{ key: string; heard: Heard | null } | null> {
      const lot = onLot ?? pick(chance, house.lots).number
      const { cookie } = pick(chance, house.bidders)
      const now = performance.now()
      const times = (lately.get(`${cookie} ${lot}`) ?? []).filter((at) => now - at < 61_000)
      if (times.length >= 11) return null
      lately.set(`${cookie} ${lot}`, [...times, now])
      const amount = (highest.get(lot) ?? 0) + between(chance, 5_000, 15_000)
      highest.set(lot, amount)
      const key = nextKey('bid')
      const from = someAddress(chance)
      const input = { lot, key, maximum: (amount / 100).toFixed(2) }
      const heard = await send(key, input, (to) => to.command('bidding.place', input, { cookie, from }), hand)
      return { key, heard }
    },
    async money(hand: Hand) {
      const key = nextKey('gift')
      gifts.add(key)
      const input = { key, from: 'A friend', amount: (between(chance, 100, 90_000) / 100).toFixed(2), reference: key, on: '' }
      await send(key, input, (to) => to.command('booking.give', input, { cookie: house.treasurer.cookie, from: someAddress(chance) }), hand)
      return key
    },
    async reading(hand: Hand) {
      const key = nextKey('reading')
      const tag = pick(chance, house.units)
      // So many defects as no other reading has found.
      const entry = String(count)
      readings.set(`${tag} ${entry}`, key)
      const input = { key, tag, seen: tag, check: READ, entry, instrumentId: '', note: key }
      await send(
        key,
        input,
        (to) => to.command('bringup.takeReading', input, { cookie: house.maker.cookie, from: someAddress(chance) }),
        hand,
      )
      return key
    },
    async photograph(hand: Hand) {
      const side = 24
      const pixels = Buffer.from(Array.from({ length: side * side * 3 }, () => between(chance, 0, 255)))
      const body = await sharp(pixels, { raw: { width: side, height: side, channels: 3 } })
        .png()
        .toBuffer()
      const key = nextKey('picture')
      pictures.set(key, createHash('sha256').update(body).digest('hex'))
      await send(
        key,
        {},
        (to) => to.ask('/files/photographs', { method: 'POST', body, type: 'image/png', cookie: house.maker.cookie }),
        hand,
      )
      return key
    },
    /** Sends once more, as a browser would, whatever got no answer. */
    async askAgain(hand: Hand) {
      for (const key of record.open()) {
        const heard = await again.get(key)?.(hand)
        if (heard) hear(key, heard)
      }
    },
    repeat: (key: string, hand: Hand) => again.get(key)?.(hand) ?? Promise.resolve(null),
    /** What is not as it was acknowledged. A lie is told by the caller, who knows what was being done. */
    async check(hand: Hand): Promise<Fault[]> {
      const standing: Standing[] = []
      const jwks = JSON.parse((await hand.ask('/.well-known/jwks.json'))?.text ?? '{}') as { keys: { x: string }[] }
      for (const { number } of house.lots) {
        const heard = await hand.ask(`/lots/${number}/history.json`, { from: someAddress(chance) })
        if (heard?.status !== 200) throw new Lie('the history of an open lot is public', wordsOf(heard), `lot ${number} is read`)
        const history = JSON.parse(heard.text) as Told
        try {
          verifyHistory(
            history,
            jwks.keys.map(({ x }) => x),
          )
        } catch (reason) {
          throw new Lie('every history holds for a stranger', String(reason), `the history of lot ${number} is checked`)
        }
        const keyAt = new Map(
          [...places].filter(([, { lot }]) => lot === number).map(([key, { index, leaf }]) => [`${index} ${leaf}`, key]),
        )
        for (const [index, leaf] of history.leaves.entries())
          if (leaf.kind === 'bid')
            standing.push({ key: keyAt.get(`${index} ${JSON.stringify(leaf)}`) ?? null, words: `entry ${index + 1} of lot ${number}` })
      }
      const treasurer = { cookie: house.treasurer.cookie, from: someAddress(chance) }
      if (gifts.size > 0) {
        const heard = await hand.query('books.all', undefined, treasurer)
        if (heard?.status !== 200) throw new Lie('the treasurer sees the books', wordsOf(heard), 'the journal is read')
        for (const { reference, memo } of dataOf<Journal>(heard)?.journal ?? [])
          standing.push({ key: gifts.has(reference) ? reference : null, words: `${memo}, ${reference}` })
      }
      if (readings.size > 0)
        for (const tag of house.units) {
          const heard = await hand.query('bringup.timeline', { tag }, { cookie: house.maker.cookie, from: someAddress(chance) })
          if (heard?.status !== 200) throw new Lie('whoever works at the bench sees what happened', wordsOf(heard), `${tag} is read`)
          for (const { kind, words } of dataOf<Happened[]>(heard) ?? []) {
            const read = new RegExp(`^${READ}: (\\d+) defects`).exec(words)?.[1]
            // None were found when the unit was furnished.
            if (kind === 'reading' && read !== undefined && read !== '0')
              standing.push({ key: readings.get(`${tag} ${read}`) ?? null, words: `${tag}: ${words}` })
          }
        }
      for (const [key, sha] of pictures) {
        const all = await Promise.all([480, 960, 1600].map((width) => hand.ask(`/files/${sha}-${width}.webp`)))
        if (all.every((heard) => heard?.status === 200)) standing.push({ key, words: sha })
      }
      return judge(record.entries(), standing)
    },
  }
}

export type Work = ReturnType<typeof openWork>

/** The first check of a unit, which may be taken over and over. */
const READ = 'B1'
