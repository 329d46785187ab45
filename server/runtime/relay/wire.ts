import type { Instant } from '#kernel/instant'
import type { Told } from '../live/fan'

/** What a house and its relays say to each other. Whoever changes it counts up: two that differ do not work together. */
export const WIRE = 3

/** Beats of the house on NATS. */
export const BEAT_MS = 1_000

/** Where the parts of it go, below the house's own prefix. */
export const subjects = (prefix: string) => ({
  /** Every frame of a public topic. */
  frames: `${prefix}.live.frames`,
  /** The house is there, every second. */
  beat: `${prefix}.live.beat`,
  /** Asks for a beat now. */
  now: `${prefix}.live.now`,
  /** Asks for the state of the topic in the body. */
  state: `${prefix}.live.state`,
  /** A page says that it reads a stream of this fan. */
  here: (fan: string) => `${prefix}.live.here.${fan}`,
})

export interface HouseBeat {
  wire: number
  /** A word for this start of the house: with another one, nothing that was sent before counts on. */
  run: string
  /** The word of the count that its numbers are of. */
  epoch: string
  /** Frames that it has sent since. */
  sent: number
  /** The last fact. */
  seq: number
  now: Instant
  trouble: string | null
  build: string
  /** Where everything is handed on to that a relay does not answer. */
  url: string
  publicUrl: string
  /** How the topics begin that everybody may follow. */
  topics: readonly string[]
}

/** A frame, the how-manieth of its run it is, and what goes to pages as it is. An answer to a question has no place in the count. */
export interface SentFrame extends Told {
  run: string
  nth: number
}

const encoder = new TextEncoder()
const decoder = new TextDecoder()

export function packFrame({ run, nth, seq, upTo, topic, data }: SentFrame): Uint8Array {
  return encoder.encode(`${run} ${nth} ${seq} ${upTo} ${topic}\n${data}`)
}

/** Null for what is no frame. */
export function unpackFrame(bytes: Uint8Array): SentFrame | null {
  const text = decoder.decode(bytes)
  const end = text.indexOf('\n')
  const [run = '', nth, seq, upTo, topic = ''] = text.slice(0, Math.max(0, end)).split(' ')
  const numbers = [Number(nth), Number(seq), Number(upTo)] as const
  if (run === '' || topic === '' || !numbers.every(Number.isSafeInteger)) return null
  return { run, nth: numbers[0], seq: numbers[1], upTo: numbers[2], topic, data: text.slice(end + 1) }
}

export const packBeat = (beat: HouseBeat): Uint8Array => encoder.encode(JSON.stringify(beat))

/** Null for what is no beat, or one of a house that speaks so differently that not even this can be read. */
export function unpackBeat(bytes: Uint8Array): HouseBeat | null {
  try {
    const beat = JSON.parse(decoder.decode(bytes)) as HouseBeat
    return Number.isSafeInteger(beat.wire) && typeof beat.run === 'string' && Array.isArray(beat.topics) ? beat : null
  } catch {
    return null
  }
}

/** Of a public topic by how it begins: `lot:` is a family, `meter` a single one. */
export const isAmong = (beginnings: readonly string[], topic: string): boolean =>
  beginnings.some((one) => (one.endsWith(':') ? topic.startsWith(one) : topic === one))
