import type { Instant } from './instant'

/** One question for the time and its answer: two instants by the asker's clock, two by the clock that was asked. */
export interface Exchange {
  asked: Instant
  received: Instant
  answered: Instant
  heard: Instant
}

export interface OffsetSample {
  /** The other clock less one's own, in milliseconds. */
  offset: number
  /** The way there and back, in milliseconds; the offset is wrong by half of it at most. */
  delay: number
}

/** Offset and round-trip delay of one exchange (RFC 5905, section 8). */
export function offsetOf({ asked, received, answered, heard }: Exchange): OffsetSample {
  return { offset: (received - asked + (answered - heard)) / 2, delay: heard - asked - (answered - received) }
}

export const SAMPLES_KEPT = 8

/** The sample of least delay among the last eight, as the clock filter of RFC 5905, section 10, chooses it; null without any. */
export function bestSample(samples: readonly OffsetSample[]): OffsetSample | null {
  return samples
    .slice(-SAMPLES_KEPT)
    .reduce<OffsetSample | null>((best, one) => (best === null || one.delay < best.delay ? one : best), null)
}

const LATE_FRAME_MS = 2_000
const SLACK_MS = 250

/**
 * Whether a time that the other clock sent by itself cannot be squared with what was measured: one of the clocks was
 * set. Such a time may be late, by its way, but never early.
 */
export function contradicts(sample: OffsetSample, sent: Instant, heard: Instant): boolean {
  const apparent = sent - heard
  return apparent > sample.offset + sample.delay / 2 + SLACK_MS || apparent < sample.offset - sample.delay / 2 - LATE_FRAME_MS
}
