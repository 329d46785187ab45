import { DAY, HOUR, type Instant, SECOND } from '#kernel/instant'
import { type DeviceRow, devicesOf, forgetDevice, forgetOfOtherKeys, hasDevices, noteTold } from '#people/devices/devices.service'
import { MOST_PUSHED_BYTES, type Pushed, type PushPost } from '#people/devices/push-post'
import type { Queue } from '#runtime/queue/queue'
import type { Fact, Sight } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'
import { findAlias } from '../bidders/aliases.service'
import { stillHolds } from '../letters/notices.rules'
import { about, listWaitingFrom, localTime, markPushed } from '../letters/notices.service'
import { getLotRow, getLotRowById, type LotRow, listRunningRows } from '../lots/lots.service'
import { lateBidOf } from '../price/late-bid.rules'
import { openPushQueue } from './push-queue'
import { extendedWords, lastMinutesWords, noticeWords, type PushedLot, type PushWords } from './push-words.rules'
import { listFollowing, wants } from './wishes.service'

const EACH_LOOK_MS = 1_000
/** Who opens the house well within the last minutes of a lot does not announce them as if they began. */
const LATE_TO_SAY = 10 * SECOND

export interface Pusher {
  /** Facts that are kept: what they mean for devices is looked for at once, after whatever is being answered. */
  heard(facts: readonly Fact[]): void
  /** Looks for what is to be told, and puts it on its way. */
  look(): void
  settled(): Promise<void>
  stop(): void
}

/**
 * Tells devices what happens to their owners' bids and in the last minutes of lots. What is to be told is kept in memory alone:
 * a house that was restored or has taken over tells nothing a second time, and what was lost with it comes by mail.
 */
export function openPusher(parts: { sight(): Sight; queue: Queue; post: PushPost; log: Log; againAfterMs?: readonly number[] }): Pusher {
  const { sight, queue, post, log } = parts
  const pushes = openPushQueue({ post, againAfterMs: parts.againAfterMs })
  const openedAt = sight().now
  let seen = new Set(listWaitingFrom(sight(), 0).map(({ id }) => id))
  /** Lots that are in their last minutes, said or not. */
  const inLastMinutes = new Set<string>()
  let extended = new Set<number>()
  let isLookingSoon = false
  let results: { device: DeviceRow; answer: 'taken' | 'gone'; noticeId: string | null }[] = []
  const report = (reason: unknown) => log.error({ err: reason }, 'devices could not be told')

  /** What became of messages is written down together, not one by one. */
  const note = async () => {
    if (results.length === 0) return
    const now = results
    results = []
    await queue.run((turn) => {
      const told = now.flatMap(({ answer, noticeId }) => (answer === 'taken' && noticeId !== null ? noticeId : []))
      if (told.length > 0) markPushed(turn, told)
      for (const id of new Set(now.flatMap(({ answer, device }) => (answer === 'taken' ? device.id : [])))) noteTold(turn, id)
      for (const { answer, device } of now) if (answer === 'gone') forgetDevice(turn, device.id)
    })
  }

  const tell = (
    personId: string,
    since: Instant,
    message: { topic: string; noticeId: string | null; make(): (Omit<Pushed, 'words' | 'topic'> & { words: PushWords }) | null },
  ) => {
    for (const device of devicesOf(sight(), [personId])) {
      if (device.at > since) continue
      pushes.put({
        device,
        topic: message.topic,
        make: () => {
          const made = message.make()
          return made && { ...made, topic: message.topic, words: payloadOf(made.words, message.topic) }
        },
        became: (answer) => {
          if (answer !== 'lost') results.push({ device, answer, noticeId: message.noticeId })
        },
      })
    }
  }

  const tellNotices = (now: Sight) => {
    const waiting = listWaitingFrom(now, openedAt)
    for (const { id, personId, lotId, kind, at } of waiting) {
      if (seen.has(id) || !wants(now, personId, lotId)) continue
      tell(personId, at, {
        topic: `lot-${getLotRowById(now, lotId).number}`,
        noticeId: id,
        make() {
          const here = sight()
          const row = getLotRowById(here, lotId)
          const reader = { state: row.state, leads: row.leaderPersonId === personId, closesAt: row.closesAt }
          if (!stillHolds(kind, reader, here.now)) return null
          const isOver = row.endedAt !== null
          const ttl = isOver ? DAY : Math.min(HOUR, Math.max(0, (row.closesAt ?? here.now + HOUR) - here.now))
          return { words: noticeWords(kind, lotFor(here, row, personId)), isUrgent: !isOver, ttlSeconds: ttl / SECOND }
        },
      })
    }
    seen = new Set(waiting.map(({ id }) => id))
  }

  const tellFollowing = (now: Sight, { id, number }: LotRow, wordsFor: (lot: PushedLot, row: LotRow) => PushWords) => {
    for (const personId of listFollowing(now, { id })) {
      tell(personId, now.now, {
        topic: `clock-${number}`,
        noticeId: null,
        make() {
          const here = sight()
          const row = getLotRowById(here, id)
          if (row.state !== 'open' || row.closesAt === null || row.closesAt <= here.now) return null
          return { words: wordsFor(lotFor(here, row, personId), row), isUrgent: true, ttlSeconds: (row.closesAt - here.now) / SECOND }
        },
      })
    }
  }

  const tellClocks = (now: Sight) => {
    const again = extended
    extended = new Set()
    for (const row of listRunningRows(now)) {
      const left = (row.closesAt ?? 0) - now.now
      const rule = row.terms ? lateBidOf(row.terms) : null
      if (row.state !== 'open' || left <= 0 || !rule) continue
      if (left > rule.windowMs) inLastMinutes.delete(row.id)
      else if (!inLastMinutes.has(row.id)) {
        inLastMinutes.add(row.id)
        if (left > rule.windowMs - LATE_TO_SAY && !again.has(row.number)) tellFollowing(now, row, (lot) => lastMinutesWords(lot, rule))
      }
    }
    for (const number of again) {
      const row = getLotRow(now, number)
      inLastMinutes.add(row.id)
      if (row.terms) tellFollowing(now, row, (lot, { terms }) => extendedWords(lot, lateBidOf(terms ?? {})))
    }
  }

  const look = () => {
    isLookingSoon = false
    const now = sight()
    if (!hasDevices(now)) {
      extended.clear()
      return
    }
    tellNotices(now)
    tellClocks(now)
  }

  queue.run(forgetOfOtherKeys).catch(report)
  const timer = setInterval(() => {
    try {
      look()
    } catch (reason) {
      report(reason)
    }
    note().catch(report)
  }, EACH_LOOK_MS)
  timer.unref()

  return {
    heard(facts) {
      for (const { kind, body } of facts) if (kind === 'lot.extended' && body.by === 'rule') extended.add(Number(body.number))
      if (isLookingSoon) return
      isLookingSoon = true
      setImmediate(() => {
        try {
          look()
        } catch (reason) {
          report(reason)
        }
      })
    },
    look,
    async settled() {
      await pushes.settled()
      await note()
    },
    stop() {
      clearInterval(timer)
      pushes.stop()
    },
  }
}

function lotFor(sight: Sight, row: LotRow, personId: string): PushedLot {
  const { number, title, currency } = about(sight, row)
  const alias = findAlias(sight, row.id, personId)
  return {
    number,
    title,
    currency,
    standingMinor: row.standingMinor,
    hammerMinor: row.hammerMinor,
    leads: alias && alias.voidedAt === null ? row.leaderPersonId === personId : null,
    clock: row.closesAt !== null && row.closesAt > sight.now ? localTime(sight, personId, row.closesAt).clock : null,
  }
}

/** What the worker of the page reads; a long title is cut rather than refused by the push service. */
function payloadOf({ title, body, url }: PushWords, tag: string): string {
  const payload = JSON.stringify({ title, body, url, tag })
  return Buffer.byteLength(payload) <= MOST_PUSHED_BYTES
    ? payload
    : JSON.stringify({ title: title.slice(0, 120), body: body.slice(0, 300), url, tag })
}
