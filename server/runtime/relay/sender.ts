import { randomBytes } from 'node:crypto'
import type { Instant } from '#kernel/instant'
import type { Hub } from '../live/hub'
import { type LiveTopic, topicFor } from '../live/live'
import type { Nats } from '../nats/nats'
import type { Log } from '../settings/log'
import { type Kind, SIGNED, type Signing } from './signed'
import { BEAT_MS, type HouseBeat, packBeat, packFrame, subjects, WIRE } from './wire'

export interface SenderParts {
  nats: Nats
  prefix: string
  hub: Hub
  topics: readonly LiveTopic[]
  seqNow(): number
  now(): Instant
  trouble(): string | null
  build: string
  url: string
  publicUrl: string
  sign: Signing
  /** Whether this house is the one that writes: another one says nothing and answers nobody. */
  isWriter?(): boolean
}

export interface Sender {
  close(): void
}

/** The house's side: every frame of a public topic goes out through NATS as it goes to the house's own watchers, and relays are answered. */
export function openSender(parts: SenderParts): Sender {
  const { nats, prefix, hub, topics, seqNow, now, trouble, build, url, publicUrl, sign, isWriter = () => true } = parts
  const { connection } = nats
  const to = subjects(prefix)
  const isPublic = (topic: string) => topicFor(topics, topic)?.audience === 'public'
  const beginnings = topics.filter(({ audience }) => audience === 'public').map(({ prefix: beginning }) => beginning)
  const run = randomBytes(6).toString('base64url')
  let sent = 0

  const signed = (kind: Kind, bytes: Uint8Array) => ({ headers: nats.headers({ [SIGNED]: sign(kind, bytes) }) })
  const beat = (): Uint8Array => {
    const one: HouseBeat = {
      wire: WIRE,
      run,
      epoch: hub.name,
      sent,
      seq: seqNow(),
      now: now(),
      trouble: trouble(),
      build,
      url,
      publicUrl,
      topics: beginnings,
    }
    return packBeat(one)
  }
  hub.alsoTo({
    takes: isPublic,
    take(told) {
      if (!isWriter()) return
      // Counted all the same, so that relays know that they missed it. Kept until NATS is back, it would be many and old.
      sent += 1
      if (nats.trouble() === null) {
        const frame = packFrame({ ...told, run, nth: sent })
        connection.publish(to.frames, frame, signed('frame', frame))
      }
    },
  })
  const asked = [
    connection.subscribe(to.now, {
      callback: (_, message) => {
        if (!isWriter()) return
        const now = beat()
        message.respond(now, signed('beat', now))
      },
    }),
    connection.subscribe(to.state, {
      callback: (_, message) => {
        if (!isWriter()) return
        const topic = message.string()
        const told = isPublic(topic) ? hub.present(topic) : null
        if (!told) message.respond()
        else {
          const frame = packFrame({ ...told, run, nth: sent })
          message.respond(frame, signed('frame', frame))
        }
      },
    }),
    connection.subscribe(to.here(hub.name), { callback: (_, message) => void hub.hears(message.string()) }),
  ]
  const tell = () => {
    if (!isWriter() || nats.trouble() !== null || connection.isClosed()) return
    const now = beat()
    connection.publish(to.beat, now, signed('beat', now))
  }
  tell()
  const timer = setInterval(tell, BEAT_MS)
  timer.unref()
  return {
    close() {
      clearInterval(timer)
      for (const one of asked) one.unsubscribe()
    },
  }
}

const AGAIN_MS = 2_000

/** Sends as soon as NATS is reached, and as long as the house is open: a house does not wait for those who watch it elsewhere. */
export function sendWhenReached({ nats: open, log, ...parts }: Omit<SenderParts, 'nats'> & { nats(): Promise<Nats>; log: Log }): Sender {
  let isOver = false
  let hasSaid = false
  let end = () => {}
  const begin = async (): Promise<void> => {
    try {
      const nats = await open()
      const sender = openSender({ ...parts, nats })
      end = () => {
        sender.close()
        void nats.close()
      }
      if (isOver) end()
    } catch (reason) {
      if (!hasSaid) log.warn({ err: reason }, 'relays hear nothing of this house yet')
      hasSaid = true
      if (!isOver) setTimeout(begin, AGAIN_MS).unref()
    }
  }
  void begin()
  return {
    close() {
      isOver = true
      end()
    },
  }
}
