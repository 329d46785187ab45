import type { ServerResponse } from 'node:http'
import type { Msg } from '@nats-io/transport-node'
import { bestSample, type OffsetSample, offsetOf } from '#kernel/clock-offset.rules'
import type { Instant } from '#kernel/instant'
import type { LastSeen } from '../live/event-stream.rules'
import type { Fan, FanParts } from '../live/fan'
import { openFan } from '../live/fan'
import type { Nats } from '../nats/nats'
import type { Log } from '../settings/log'
import { openCheck, SIGNED } from './signed'
import { BEAT_MS, type HouseBeat, isAmong, type SentFrame, subjects, unpackBeat, unpackFrame, WIRE } from './wire'

/** A house that was not heard for so long is said to be away. */
const SILENT_MS = 3 * BEAT_MS
const ASK_MS = 2_000
const CLOCK_EVERY_MS = 10_000
/** States of topics that nobody watches are let go beyond so many. */
const MOST_HELD = 2_000
const MOST_TRIES = 5

interface Held {
  seq: number
  upTo: number
  /** Null where there is no such thing. */
  data: string | null
}

export interface Receiver {
  fan: Fan
  /** What the house said last; null before it was heard. */
  house(): HouseBeat | null
  /** The same, asked for if need be; null where no house answers. */
  met(): Promise<HouseBeat | null>
  /** The last fact that is known of here. */
  seqNow(): number
  /** The house's time as well as it can be told from here; null before it was asked. */
  now(): Instant | null
  trouble(): string | null
  /** Opens a stream when the states of its topics are held. Rejects where the house does not answer. */
  watch(response: ServerResponse, topics: readonly string[], lastSeen: LastSeen | null): Promise<void>
  /** Passes on that a page reads a stream of some other machine. */
  passOn(token: string): void
  close(): void
}

/**
 * A relay's side: what the house sent is held, topic by topic, and brought to the watchers here by a fan like the house's own.
 * Frames are counted, so whatever was missed is noticed at the next frame or beat; then every state that somebody
 * watches is asked for again. Numbers are the house's own, so a page may come back to any relay, or to the house.
 */
export function openReceiver(parts: {
  nats: Nats
  /** The name of the house: the fingerprint of its first key. */
  kid: string
  build: string
  log: Log
  fan?: Pick<FanParts, 'heartbeatMs' | 'silentMs' | 'stuckMs' | 'lastWordsMs'>
}): Receiver {
  const { nats, kid, build, log } = parts
  const { connection } = nats
  const to = subjects(`tagstrip.${kid}`)
  const isSigned = openCheck(kid)
  const held = new Map<string, Held>()
  const asking = new Map<string, Promise<void>>()
  let house: HouseBeat | null = null
  let heardAt = performance.now()
  let highest = 0
  let counted = 0
  /** False while something may have been missed. */
  let isWhole = false
  let isMending = false
  /** Another count holds than the one that states were brought of: all are got and brought again. */
  let isOtherCount = false
  /** It is that of an earlier copy. */
  let isEarlier = false
  /** Up to which fact nothing was missed for certain; a number that goes out says no more while something may have been. */
  let sure = -1
  /** How somebody speaks who says to be the house, and whom it does not know as that; null where nobody does. */
  let strangeWire: number | null = null
  let hasSaidStrange = false
  let samples: OffsetSample[] = []
  let sampledAt = Number.NEGATIVE_INFINITY

  const now = (): Instant | null => {
    const best = bestSample(samples)
    return best && Math.round(performance.now() + best.offset)
  }
  const trouble = (): string | null => {
    if (nats.trouble() !== null) return 'This relay has lost its connection to the house. What you see may have changed; it keeps trying.'
    const silentMs = performance.now() - heardAt
    if (silentMs > SILENT_MS)
      return `The house has not been heard for ${Math.floor(silentMs / 1000)} seconds. What you see may have changed; this page keeps trying.`
    if ((house?.wire ?? strangeWire ?? WIRE) !== WIRE)
      return 'This relay is a different version from its house and brings nothing new. Whoever runs it has to open both from the same version.'
    return house?.trouble ?? null
  }
  const fan = openFan({
    ...parts.fan,
    make: (topic) => {
      const one = held.get(topic)
      if (!one || one.data === null) return null
      if (isWhole && !isMending && !isOtherCount) sure = Math.max(sure, one.upTo)
      return { data: one.data, upTo: Math.min(one.upTo, sure) }
    },
    seqNow: () => highest,
    seqOf: (topic) => held.get(topic)?.seq ?? 0,
    epoch: () => house?.epoch ?? '',
    now: () => now() ?? house?.now ?? 0,
    build,
    trouble,
    // What the house sends has waited its time there, and stays as it came.
    quietMs: 0,
    madeMs: Number.POSITIVE_INFINITY,
  })

  const strange = (subject: string) => {
    if (!hasSaidStrange)
      log.error(
        { subject },
        'something came on the subjects of the house that it did not sign, and nothing of it is taken: let nobody else send there (NATS_CREDS)',
      )
    hasSaidStrange = true
  }
  const beatIn = ({ data, headers, subject }: Msg): HouseBeat | null => {
    const beat = unpackBeat(data)
    if (!beat || isSigned('beat', data, headers?.get(SIGNED))) return beat
    // A house of an earlier version signs nothing; that it is of another is all that is taken of it.
    if (house === null && beat.wire !== WIRE) strangeWire = beat.wire
    else strange(subject)
    return null
  }
  const frameIn = ({ data, headers, subject }: Msg): SentFrame | null => {
    if (isSigned('frame', data, headers?.get(SIGNED))) return unpackFrame(data)
    strange(subject)
    return null
  }
  /** Sent once already, and again by somebody else: a run does not come back while the one after it is heard. */
  const isFromBefore = (beat: HouseBeat): boolean => {
    if (house === null) return false
    if (beat.run === house.run) return beat.sent < house.sent || beat.seq < house.seq
    return beat.now < house.now && performance.now() - heardAt < SILENT_MS
  }

  const take = (topic: string, one: Held) => {
    if ((held.get(topic)?.seq ?? -1) > one.seq) return
    held.set(topic, one)
    highest = Math.max(highest, one.seq)
    fan.touch([[topic, one.seq]])
  }
  const forget = () => {
    if (held.size <= MOST_HELD) return
    const watched = new Set(fan.watched())
    for (const topic of held.keys()) {
      if (held.size <= MOST_HELD) return
      if (!watched.has(topic)) held.delete(topic)
    }
  }
  /** Frames that came up to here are counted; whether none is missing in between. */
  const count = (nth: number, isNext: boolean) => {
    if (nth > counted + (isNext ? 1 : 0)) isWhole = false
    counted = Math.max(counted, nth)
  }

  const ask = (topic: string): Promise<void> => {
    const before = asking.get(topic)
    if (before) return before
    const asked = (async () => {
      const answer = await connection.request(to.state, topic, { timeout: ASK_MS })
      const frame = answer.data.length > 0 ? frameIn(answer) : null
      if (answer.data.length > 0 && frame?.topic !== topic) throw new Error('the answer is not the house’s')
      if (frame && frame.run !== house?.run) throw new Error('the house was opened again meanwhile')
      if (frame) count(frame.nth, false)
      take(topic, frame ? { seq: frame.seq, upTo: frame.upTo, data: frame.data } : { seq: 0, upTo: 0, data: null })
    })().finally(() => asking.delete(topic))
    asking.set(topic, asked)
    return asked
  }

  /** Asks for the time and for where the house stands. */
  const meet = async () => {
    const asked = performance.now()
    const beat = beatIn(await connection.request(to.now, undefined, { timeout: ASK_MS }))
    if (!beat) return
    const heard = performance.now()
    samples = [...samples, offsetOf({ asked, received: beat.now, answered: beat.now, heard })].slice(-8)
    sampledAt = heard
    hear(beat)
  }

  /** Gets anew whatever somebody watches; the rest is asked for when it is wanted. */
  const mend = async () => {
    isMending = true
    const run = house?.run
    const watched = fan.watched()
    for (const topic of held.keys()) if (isOtherCount || !watched.includes(topic)) held.delete(topic)
    isWhole = true
    try {
      await Promise.all(watched.map(ask))
      if (house?.run !== run) isWhole = false
    } catch (reason) {
      isWhole = false
      log.warn({ err: reason }, 'what was missed could not be had from the house yet')
    } finally {
      isMending = false
    }
    if (!isWhole) return
    if (!isOtherCount) {
      // What was made meanwhile promised less than is so now.
      fan.touch(watched.map((topic) => [topic, held.get(topic)?.seq ?? 0] as const))
      return
    }
    const wasEarlier = isEarlier
    isOtherCount = false
    isEarlier = false
    fan.beginAnew(wasEarlier)
  }

  const hear = (beat: HouseBeat) => {
    const before = house
    if (isFromBefore(beat)) return
    const wasTroubled = trouble()
    house = beat
    heardAt = performance.now()
    if (beat.wire !== WIRE) {
      if (before?.run !== beat.run) log.error({ house: beat.wire, relay: WIRE }, 'this relay is of another version than its house')
      return
    }
    if (before?.run !== beat.run) {
      if (beat.build !== build)
        log.warn({ house: beat.build, relay: build }, 'the house runs another build: its own files are served, and none of this folder')
      if (before && before.epoch !== beat.epoch) {
        isOtherCount = true
        // An earlier copy was opened: what was counted since does not hold.
        isEarlier ||= beat.seq < highest
        highest = beat.seq
        sure = -1
      }
      samples = []
      sampledAt = Number.NEGATIVE_INFINITY
      isWhole = false
      counted = beat.sent
    } else count(beat.sent, false)
    highest = Math.max(highest, beat.seq)
    if (!isWhole && !isMending) void mend()
    if (performance.now() - sampledAt > CLOCK_EVERY_MS) {
      sampledAt = performance.now()
      meet().catch(() => {})
    }
    if (wasTroubled !== trouble()) fan.beat()
  }

  const subscriptions = [
    connection.subscribe(to.beat, {
      callback: (_, message) => {
        const beat = beatIn(message)
        if (beat) hear(beat)
      },
    }),
    connection.subscribe(to.frames, {
      callback: (_, message) => {
        const frame = frameIn(message)
        if (!frame || frame.run !== house?.run || house.wire !== WIRE) return
        count(frame.nth, true)
        take(frame.topic, frame)
      },
    }),
    connection.subscribe(to.here(fan.name), { callback: (_, message) => void fan.hears(message.string()) }),
  ]
  nats.onChange((words) => {
    // What was sent meanwhile is gone.
    if (words === null) isWhole = false
    fan.beat()
  })
  let wasSilent = false
  const watch = setInterval(() => {
    const isSilent = performance.now() - heardAt > SILENT_MS
    if (isSilent && !wasSilent) fan.beat()
    wasSilent = isSilent
  }, BEAT_MS / 2)
  watch.unref()
  meet().catch(() => {})

  return {
    fan,
    house: () => house,
    async met() {
      if (!house) await meet().catch(() => {})
      return house
    },
    seqNow: () => highest,
    now,
    trouble,
    async watch(response, topics, lastSeen) {
      // A number that is not known here yet may be one that the house gave to somebody a moment ago.
      if (lastSeen && (lastSeen.epoch !== house?.epoch || lastSeen.seq > highest)) await meet().catch(() => {})
      // While the rest is waited for, what was held may have been let go.
      for (let tries = 0; ; tries++) {
        const missing = topics.filter((topic) => !held.has(topic) && isAmong(house?.topics ?? [], topic))
        if (missing.length === 0) break
        if (tries === MOST_TRIES) throw new Error('what the house sends does not stay')
        await Promise.all(missing.map(ask))
      }
      if (!response.destroyed) fan.watch(response, topics, lastSeen)
      forget()
    },
    passOn(token) {
      const [name = ''] = token.split('.')
      if (/^[\w-]{8}$/.test(name) && nats.trouble() === null) connection.publish(to.here(name), token)
    },
    close() {
      clearInterval(watch)
      for (const one of subscriptions) one.unsubscribe()
      fan.close()
    },
  }
}
