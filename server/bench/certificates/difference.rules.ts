import type { CertificatePayload, CertificateResult } from './certificates.contract'
import { type Difference, foundDifference } from './found-difference.rules'
import { countsOf, sentenceOf } from './public-record.rules'
import { PROVES_EARLIER_WORDS, PROVES_NOTHING_WORDS, shownWithUnit } from './sentences.rules'
import { readSince, withoutSince } from './since-signed.rules'

type Plain = Record<string, unknown>

/**
 * What a signed certificate and a unit's record for machines both say, in one shape, in the order in which people read it.
 * Left out is what a house works out anew for each reader: the reference of a good machine, which changes with every further
 * machine, and the role of who took a reading, which is the one that they have now.
 */
const SHARED_RESULT = [
  'title',
  'stage',
  'kind',
  'isHold',
  'shown',
  'value',
  'unit',
  'nominal',
  'lower',
  'upper',
  'doubt',
  'verdict',
  'instrument',
  'takenAt',
  'ambient',
  'plain',
  'caution',
  'matched',
  'photograph',
  'soak',
  'released',
  'home',
] as const satisfies readonly (keyof CertificateResult)[]

/**
 * Compares what was signed with another telling of it: the same document out of another file, or the record of the
 * unit (`record.json`). Null when nothing that both of them say differs.
 */
export function firstDifference(signed: CertificatePayload, other: Plain): Difference | null {
  if (other.kind !== 'tagstrip-record') return differs(signed, other, [], signed)
  const record = withoutSince(signed, other)
  const names = SHARED_RESULT.filter((name) => !LATER.has(name) || signed.results.some((one) => name in one))
  const { sentence, checks, passed, within, failed, firstReadingAt, lastReadingAt, decision, doubt, proves } = other
  const told = { sentence, checks, passed, within, failed, firstReadingAt, lastReadingAt, decision, doubt, proves }
  return (
    differs({ ...asRecord(signed, names), ...tellingOf(signed, other) }, { ...asRecord(record, names), ...told }, [], signed) ??
    foundDifference(signed, other)
  )
}

/** Certificates that were signed before these were kept say nothing of them. */
const LATER: ReadonlySet<string> = new Set(['photograph', 'soak', 'released', 'home'])

/** What a record has to say in sum, by its readings and by what was signed. */
function tellingOf(signed: CertificatePayload, record: Plain): Plain {
  const results = listOf(record.results) as unknown as CertificateResult[]
  const checks = signed.results.length
  const counts = { checks, ...countsOf(results) }
  const times = results.map(({ takenAt }) => takenAt).sort()
  const isOfIt = record.certificate === `/certificates/${signed.serial}`
  const newer = isOfIt ? readSince(record, signed.issuedAt).length : 0
  const missing = listOf(record.missing, isText).length
  const sentence = sentenceOf(isText(record.setAside) ? record.setAside : null, {
    ...counts,
    reworks: listOf(record.reworks).length,
    isCertified: record.certificate !== null,
    newer,
    missing,
  })
  // One that names another certificate speaks of what is newer than that.
  const isOfAnother = record.certificate !== null && !isOfIt
  return {
    sentence: isOfAnother ? record.sentence : sentence,
    ...counts,
    firstReadingAt: times[0],
    lastReadingAt: times.at(-1),
    decision: signed.decisionRule.words,
    doubt: signed.method.doubt,
    proves: provesOf(signed, record),
  }
}

/** What it may say that the signature proves. Earlier houses said of a record for which none stands what was signed: true where nothing is newer. */
function provesOf({ serial, issuedAt, proves }: CertificatePayload, record: Plain): string {
  const hasNewer = readSince(record, issuedAt).length > 0
  if (record.certificate === null) return hasNewer || record.proves === PROVES_NOTHING_WORDS ? PROVES_NOTHING_WORDS : proves
  const isEarlier = record.certificate === `/certificates/${serial}` ? hasNewer : record.proves === PROVES_EARLIER_WORDS
  return isEarlier ? PROVES_EARLIER_WORDS : proves
}

function asRecord(from: object, names: readonly (keyof CertificateResult)[]): Plain {
  const { item, tag, number, design, results, earlier, reworks, instruments, quirks, cautions, atHome } = from as Plain & {
    item?: Plain
    design?: Plain
  }
  return {
    tag: item?.tag ?? tag,
    number: item?.number ?? number,
    design: item?.design ?? design?.name,
    revision: item?.revision ?? design?.revision,
    results: listOf(results).map((one) => ({
      check: one.check,
      ...Object.fromEntries(names.map((name) => [name, one[name] ?? null])),
    })),
    reworks,
    earlier,
    instruments,
    quirks: quirks ?? design?.quirks,
    cautions: cautions ?? design?.cautions,
    atHome,
  }
}

function listOf(value: unknown): Plain[]
function listOf<Of>(value: unknown, fits: (one: unknown) => one is Of): Of[]
function listOf(value: unknown, fits: (one: unknown) => boolean = isPlain): unknown[] {
  return Array.isArray(value) ? value.filter(fits) : []
}
const isText = (value: unknown): value is string => typeof value === 'string'
const isPlain = (value: unknown): value is Plain => typeof value === 'object' && value !== null && !Array.isArray(value)

function differs(signed: unknown, other: unknown, path: string[], whole: CertificatePayload): Difference | null {
  if (Array.isArray(signed) && Array.isArray(other)) return listDiffers(signed, other, path, whole)
  if (isPlain(signed) && isPlain(other)) {
    for (const name of new Set([...Object.keys(signed), ...Object.keys(other)])) {
      const found = differs(signed[name], other[name], [...path, name], whole)
      if (found) return found
    }
    return null
  }
  return Object.is(signed, other) ? null : { path: path.join('.'), words: wordsFor(path, signed, other, whole) }
}

function listDiffers(signed: unknown[], other: unknown[], path: string[], whole: CertificatePayload): Difference | null {
  for (const [index, one] of signed.entries()) {
    const twin = other[index]
    const name = isPlain(one) && typeof one.check === 'string' ? one.check : String(index + 1)
    if (isPlain(one) && isPlain(twin) && one.check !== twin.check) {
      const isGone = !other.some((entry) => isPlain(entry) && entry.check === one.check)
      return {
        path: [...path, name].join('.'),
        words: `${placeOf([...path, name], whole)} ${isGone ? 'is missing from' : 'stands at another place in'} the record.`,
      }
    }
    if (twin === undefined)
      return { path: [...path, name].join('.'), words: `${placeOf([...path, name], whole)} is missing from the record.` }
    const found = differs(one, twin, [...path, name], whole)
    if (found) return found
  }
  if (other.length <= signed.length) return null
  return {
    path: [...path, String(signed.length + 1)].join('.'),
    words: `${placeOf(path, whole)}: the record has ${other.length} entries, ${signed.length} were signed.`,
  }
}

function wordsFor(path: string[], signed: unknown, other: unknown, whole: CertificatePayload): string {
  return `${placeOf(path, whole)}: signed as ${told(signed)}, the record says ${told(other)}.`
}

const told = (value: unknown): string => {
  if (value === null || value === undefined) return 'nothing'
  const text = typeof value === 'string' ? `“${value}”` : JSON.stringify(value)
  return text.length > 160 ? `${text.slice(0, 157)}…` : text
}

const FIELDS: Record<string, string> = {
  shown: 'the reading',
  value: 'the number',
  lower: 'the lower limit',
  upper: 'the upper limit',
  doubt: 'the doubt',
  nominal: 'the nominal',
  reference: 'the reference reading',
  takenAt: 'when it was taken',
  takenBy: 'who took it',
  plain: 'the plain sentence',
  matched: 'what was matched',
  photograph: 'its photograph',
  soak: 'how long it ran',
  released: 'who released it',
  home: 'how it is repeated at home',
  sentence: 'The sentence about it all',
  checks: 'How many checks there are',
  passed: 'How many passed',
  within: 'How many passed within doubt',
  failed: 'How many failed',
  firstReadingAt: 'When it was first read',
  lastReadingAt: 'When it was last read',
  proves: 'What the signature proves',
  issuedAt: 'The day of issue',
  cautions: 'The cautions',
  quirks: 'The known quirks',
  reworks: 'What was mended',
  earlier: 'The readings no longer current',
  instruments: 'The instruments',
  results: 'The readings',
  item: 'The unit',
  fitted: 'the parts fitted',
}

/** "Reading B6 Regulated rail (8.02 V), the lower limit", "The unit, tag". */
function placeOf(path: string[], whole: CertificatePayload): string {
  const [first = '', second, ...rest] = path
  const named = (name: string) => FIELDS[name] ?? name
  if (first === 'results' && second) {
    const result = whole.results.find((one) => one.check === second)
    const reading = result ? `Reading ${second} ${result.title} (${shownWithUnit(result)})` : `Reading ${second}`
    return [reading, ...rest.map(named)].join(', ')
  }
  const words = path.map((name, index) => (/^\d+$/.test(name) && index > 0 ? `entry ${name}` : named(name))).join(', ')
  return words.charAt(0).toUpperCase() + words.slice(1)
}
