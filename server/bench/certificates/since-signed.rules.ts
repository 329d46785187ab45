import { z } from 'zod'
import { type CertificatePayload, type CertificateResult, earlierShape, resultShape } from './certificates.contract'
import { shownWithUnit } from './sentences.rules'

/** What a record says of a check after its certificate was signed: a figure put right, or a reading taken again. */
export interface Since {
  check: string
  title: string
  /** As it was when the certificate was signed. */
  before: Earlier
  /** As it is now, and since when. */
  now: CertificateResult
  /** Why what was signed is no longer current, in the words of the record. */
  why: string
}

type Earlier = z.infer<typeof earlierShape>

const readingsShape = z.looseObject({ results: z.array(resultShape), earlier: z.array(earlierShape) })
const WHYS = /^(?:Corrected: .|Taken again\.)/s

/** The readings of a record that are newer than a certificate of `issuedAt`, each with the one that it took the place of. */
export function readSince(record: unknown, issuedAt: string): Since[] {
  const read = readingsShape.safeParse(record)
  if (!read.success) return []
  const { results, earlier } = read.data
  return results.flatMap((now) => {
    const ofCheck = earlier.filter(({ check }) => check === now.check)
    const at = ofCheck.findLastIndex(({ takenAt }) => takenAt <= issuedAt)
    const [before, ...between] = ofCheck.slice(at === -1 ? ofCheck.length : at)
    if (now.takenAt <= issuedAt || !before) return []
    const why = [before, ...between].map(({ whyNotCurrent }) => whyNotCurrent).join(' ')
    return WHYS.test(before.whyNotCurrent) ? [{ check: now.check, title: now.title, before, now, why }] : []
  })
}

/** Those of them that say what was signed as it was signed: the record itself tells what it changed, and hides nothing. */
export const changedSince = ({ results, issuedAt }: CertificatePayload, record: unknown): Since[] =>
  readSince(record, issuedAt).filter(({ check, before }) => results.some((one) => one.check === check && isOf(one, before)))

const isOf = ({ shown, unit, takenAt, verdict }: CertificateResult, before: Earlier): boolean =>
  [shown, `${shown} ${unit}`].includes(before.shown) && takenAt === before.takenAt && verdict === before.verdict

/** "B6 Regulated rail: signed as 8.02 V, 8.04 V since 2027-03-15 12:00 UTC. Corrected: a slip of the pen." */
export const sinceWords = ({ check, title, before, now, why }: Since): string =>
  `${check} ${title}: signed as ${shownWithUnit(before)}, ${shownWithUnit(now)} since ${now.takenAt.slice(0, 16).replace('T', ' ')} UTC. ${why}`

/** The record as it would be without them: what is left must be as it was signed. */
export function withoutSince(signed: CertificatePayload, record: Record<string, unknown>): Record<string, unknown> {
  const since = changedSince(signed, record)
  if (since.length === 0) return record
  const { results, earlier } = readingsShape.parse(record)
  const isKnown = (one: object, list: readonly object[]) => list.some((other) => textOf(other) === textOf(one))
  return {
    ...record,
    results: results.map((one) => {
      const own = since.some(({ check }) => check === one.check) && signed.results.find(({ check }) => check === one.check)
      return own ? { ...one, ...readingOf(own) } : one
    }),
    earlier: earlier.filter((one) => !since.some(({ check, before }) => check === one.check && one.takenAt >= before.takenAt)),
    // What was read since may have been read with a further instrument, or with one that was checked anew.
    instruments: Array.isArray(record.instruments)
      ? record.instruments.filter((one) => isKnown(Object(one), signed.instruments))
      : record.instruments,
  }
}

/** An object of plain values, whatever the order of its names. */
const textOf = (one: object): string => JSON.stringify(Object.entries(one).sort(([a], [b]) => (a < b ? -1 : 1)))

/** What belongs to a reading, and not to its check. */
function readingOf(one: CertificateResult) {
  const { shown, value, doubt, verdict, instrument, takenAt, takenBy, ambient, matched, lower, upper, photograph, soak, released } = one
  return { shown, value, doubt, verdict, instrument, takenAt, takenBy, ambient, matched, lower, upper, photograph, soak, released }
}
