import type { ConsumerMessages, JetStreamClient, JetStreamManager, StoredMsg } from '@nats-io/jetstream'
import type { MsgHdrs } from '@nats-io/transport-node'
import type { HouseNames } from '../nats/house-names'
import type { Nats } from '../nats/nats'
import type { Part } from './message'

/** How much the stream keeps; a base that is older than its first message has to be made anew. */
export interface Kept {
  hours: number
  megabytes: number
}

export interface Stream {
  /** When it was made, which tells it from one that was made again under its name. */
  made: string
  /** On how many servers each message lies. */
  replicas: number
  /** The longest body of a message. */
  mostBytes: number
  /** From which message to which it goes; one that the servers no longer have holds nothing. */
  state(): Promise<{ first: number; last: number }>
  /** Deletes it with all that it holds, and makes it again. */
  anew(): Promise<Stream>
  /** Null where there is none, or none any more. */
  read(number: number): Promise<Part | null>
  /**
   * Resolves when it stands in the stream at exactly its place; rejects where another stands there, and where nothing is heard.
   * With `after`, it stands only behind that one: a number alone does not tell whose message came before.
   */
  publish(part: Part, after?: Part): Promise<void>
  /** All messages from a place on, in order, as they come, until it is stopped. */
  follow(from: number, heard: (part: Part) => void): Promise<{ stop(): Promise<void> }>
}

const ID = 'Nats-Msg-Id'
const PART = 'Tagstrip-Part'
const TIMEOUT_MS = 1_500
const MANAGER_MS = 4_000
const SIGN_OF_LIFE_MS = 1_000
const ASK_AGAIN_MS = 2_000
const SILENT_MS = 3_500
const MOST_TRIES = 8
const AGAIN_MS = 300
const HOUR_NS = 3_600_000_000_000
/** Room in a message for what surrounds its body. */
const HEAD_BYTES = 2_048

/** Makes the stream where there is none yet: on three servers where there are three, otherwise on what there is. */
export async function openStream(nats: Nats, names: HouseNames, kept: Kept): Promise<Stream> {
  const { jetstream, jetstreamManager, DiscardPolicy, StorageType } = await import('@nats-io/jetstream')
  const { connection } = nats
  const manager = await jetstreamManager(connection, { timeout: MANAGER_MS }).catch((cause) => {
    throw new Error(
      `The NATS at ${connection.getServer()} keeps no streams (${String(cause)}). Start its servers with JetStream switched on (-js).`,
      { cause },
    )
  })
  const config = {
    name: names.stream,
    subjects: [names.groups],
    storage: StorageType.File,
    discard: DiscardPolicy.Old,
    max_age: kept.hours * HOUR_NS,
    max_bytes: kept.megabytes * 1024 * 1024,
  }
  const made = await manager.streams.info(names.stream).catch(() => null)
  const info = made ?? (await onAsManyAsCan(manager, config))
  const anew = async () => {
    await manager.streams.delete(names.stream)
    return openStream(nats, names, kept)
  }
  return streamOn(jetstream(connection, { timeout: TIMEOUT_MS }), manager, names, {
    anew,
    made: info.created,
    replicas: info.config.num_replicas,
    mostBytes: (connection.info?.max_payload ?? 1024 * 1024) - HEAD_BYTES,
  })
}

async function onAsManyAsCan(
  manager: JetStreamManager,
  config: Parameters<JetStreamManager['streams']['add']>[0],
): Promise<Awaited<ReturnType<JetStreamManager['streams']['add']>>> {
  try {
    return await manager.streams.add({ ...config, num_replicas: 3 })
  } catch (reason) {
    // One server, or two: nothing can lie on three.
    if (!(reason instanceof Error) || !/replicas|peers|cluster|resources/i.test(reason.message)) throw reason
    return manager.streams.add({ ...config, num_replicas: 1 })
  }
}

function streamOn(
  client: JetStreamClient,
  manager: JetStreamManager,
  names: HouseNames,
  facts: Pick<Stream, 'made' | 'replicas' | 'mostBytes' | 'anew'>,
): Stream {
  return {
    ...facts,
    async state() {
      const { JetStreamApiCodes } = await import('@nats-io/jetstream')
      const info = await untilAnswered(() => manager.streams.info(names.stream)).catch((reason: unknown) => {
        if (reason instanceof Error && 'code' in reason && reason.code === JetStreamApiCodes.StreamNotFound) return null
        throw reason
      })
      return { first: info?.state.first_seq ?? 0, last: info?.state.last_seq ?? 0 }
    },
    async read(number) {
      const found = await untilAnswered(() => manager.streams.getMessage(names.stream, { seq: number }))
      return found && partFrom(found.seq, found)
    },
    async publish(sent, after) {
      const { number, part, body } = sent
      const { headers } = await import('@nats-io/transport-node')
      const head = headers()
      head.set(PART, part)
      const answer = await client.publish(names.groups, body, {
        msgID: idOf(sent),
        headers: head,
        timeout: TIMEOUT_MS,
        expect: { streamName: names.stream, lastSequence: number - 1, ...(after && { lastMsgID: idOf(after) }) },
      })
      if (answer.seq !== number) throw new Error(`message ${number} was confirmed as ${answer.seq}`)
    },
    follow: (from, heard) => followFrom(client, names.stream, from, heard),
  }
}

/** While the servers agree on who of them answers for the stream, nobody does. */
async function untilAnswered<T>(ask: () => Promise<T>): Promise<T> {
  for (let tries = 1; ; tries++) {
    try {
      return await ask()
    } catch (reason) {
      if (tries === MOST_TRIES || !isUnanswered(reason)) throw reason
      await new Promise((resolve) => setTimeout(resolve, AGAIN_MS))
    }
  }
}

const isUnanswered = (reason: unknown): boolean =>
  reason instanceof Error && /timeout|no responders|not available|offline|no leader/i.test(`${reason.name} ${reason.message}`)

/**
 * What hands the messages out lies on one of the servers, and is lost with it; nothing tells of that. So where no sign of life has come for
 * some seconds, another is asked for, from the next message on.
 */
async function followFrom(client: JetStreamClient, stream: string, from: number, heard: (part: Part) => void) {
  const { DeliverPolicy } = await import('@nats-io/jetstream')
  let next = from
  let signAt = performance.now()
  let messages: ConsumerMessages | null = null
  let isAsking = false
  let isStopped = false
  const sign = () => {
    signAt = performance.now()
  }
  const ask = async () => {
    isAsking = true
    try {
      messages?.stop()
      const consumer = await client.consumers.get(stream, { deliver_policy: DeliverPolicy.StartSequence, opt_start_seq: next })
      const asked = await consumer.consume({
        // Where it fails it asks again after this long, and not after half a minute.
        ...{ idle_heartbeat: SIGN_OF_LIFE_MS, expires: ASK_AGAIN_MS },
        callback: (message) => {
          sign()
          // One that is not needed any more may hand out a last one.
          if (isStopped || message.seq < next) return
          next = message.seq + 1
          heard(partFrom(message.seq, { data: message.data, header: message.headers }))
        },
      })
      if (isStopped) asked.stop()
      messages = asked
      sign()
      void lookForSigns(asked, sign)
    } finally {
      isAsking = false
    }
  }
  await ask()
  const watch = setInterval(() => {
    if (!isAsking && performance.now() - signAt > SILENT_MS) ask().catch(() => {})
  }, SIGN_OF_LIFE_MS)
  watch.unref()
  return {
    async stop() {
      isStopped = true
      clearInterval(watch)
      messages?.stop()
    },
  }
}

async function lookForSigns(messages: ConsumerMessages, sign: () => void): Promise<void> {
  for await (const { type } of messages.status()) if (type === 'heartbeat') sign()
}

const idOf = ({ messageId, part }: Part): string => `${messageId} ${part}`

function partFrom(number: number, { data, header }: { data: Uint8Array; header?: MsgHdrs | StoredMsg['header'] }): Part {
  const part = header?.get(PART) ?? ''
  const id = header?.get(ID) ?? ''
  return { number, part, messageId: id.slice(0, -part.length - 1), body: Buffer.from(data).toString('utf8') }
}
