import { readingsSince } from '#bench/certificates/public-record.rules'
import { shownWithUnit } from '#bench/certificates/sentences.rules'
import type { Since } from '#bench/certificates/since-signed.rules'
import type { RecordView } from '#floor/record/record.service'
import { dayIn, ended, mendedWords, testedWords } from './record.rules'

export interface AnswerTo {
  question: string
  words: string
  /** Where on the page more of it stands. */
  more: { href: string; label: string } | null
}

/** How it stands, in a word or two: a certificate says nothing of what was read after it, nor that a hold point was released again. */
export function standingChip({ record, standing }: Pick<RecordView, 'record' | 'standing'>): {
  tone: 'ok' | 'doubt' | 'bad' | 'plain'
  words: string
} {
  if (record.setAside !== null) return { tone: 'bad', words: standing ? 'Certified' : 'Set aside' }
  const tone = record.failed > 0 ? 'bad' : 'plain'
  if (!standing) return { tone, words: 'Not certified' }
  const since = readingsSince(record, standing.issuedAt)
  if (since.length > 0) {
    // What was read again leaves what was signed as it was read; what was put right does not.
    const isReadAgain = since.every(({ before }) => before.whyNotCurrent === 'Taken again.')
    return { tone: record.failed > 0 ? 'bad' : 'doubt', words: isReadAgain ? 'Certified, read again since' : 'Changed since certified' }
  }
  if (record.missing.length > 0) return { tone: record.failed > 0 ? 'bad' : 'doubt', words: 'Certified, now incomplete' }
  return { tone: record.failed > 0 ? 'bad' : 'ok', words: 'Certified' }
}

/** The five things that somebody asks who does not know the maker; each answered in a sentence or two, from the record alone. */
export function fiveAnswers({
  record,
  standing,
  history,
  now,
  zone,
}: Pick<RecordView, 'record' | 'standing' | 'history' | 'now' | 'zone'>): AnswerTo[] {
  return [
    {
      question: 'Does it work?',
      words: worksWords(record, standing !== null),
      more: { href: '#readings', label: record.results.length === 0 ? 'No reading yet' : `All ${record.results.length} readings` },
    },
    { question: 'What was wrong with it?', words: wrongWords(record, zone), more: { href: '#mended', label: 'What was mended' } },
    {
      question: 'Who says so, and with what?',
      words: whoWords({ record, standing, zone }),
      more: { href: '#bounds', label: 'What this proves' },
    },
    { question: 'Has it changed since?', words: sinceWords({ record, standing, history, now, zone }), more: null },
    { question: 'What could hurt me?', words: hurtWords(record), more: null },
  ]
}

type Record = RecordView['record']

function worksWords(record: Record, isCertified: boolean): string {
  const quirks = record.design.quirks.length
  const odd = quirks === 0 ? '' : ` It has ${quirks === 1 ? 'a known quirk' : `${quirks} known quirks`}, listed below.`
  if (isCertified) return `Yes, as far as its ${record.checks} checks can tell.${odd}`
  return record.setAside === null && record.failed === 0 ? `That is not shown yet.${odd}` : `No, not as it stands.${odd}`
}

function wrongWords(record: Record, zone: string): string {
  const failed = record.earlier.filter((reading) => reading.verdict.startsWith('fail')).length
  const first =
    failed === 0
      ? ''
      : ` ${failed === 1 ? 'One reading' : `${failed} readings`} failed on the way and ${failed === 1 ? 'is' : 'are'} kept in the record.`
  return `${mendedWords(record, zone)}${first}`
}

function whoWords({ record, standing, zone }: Pick<RecordView, 'record' | 'standing' | 'zone'>): string {
  if (record.results.length === 0) return 'Nobody yet: no reading has been taken.'
  const [first, ...others] = record.instruments
  const checked = first && first.checkedAt !== null ? `, last checked on ${dayIn(first.checkedAt, zone)}` : ''
  const tools = !first ? 'without instruments' : `with ${first.name}${checked}${others.length === 0 ? '' : `, and ${others.length} more`}`
  const signed = standing
    ? ` Signed as ${standing.serial}: ${record.proves.charAt(0).toLowerCase()}${record.proves.slice(1)}`
    : ' No certificate is signed for it now.'
  return `The maker, at their own bench, ${tools}.${signed}`
}

function sinceWords({
  record,
  standing,
  history,
  now,
  zone,
}: Pick<RecordView, 'record' | 'standing' | 'history' | 'now' | 'zone'>): string {
  if (record.firstReadingAt === null || record.lastReadingAt === null) return 'There is nothing yet that could have changed.'
  const tested = testedWords(record.firstReadingAt, record.lastReadingAt, now, zone)
  if (standing) {
    const since = readingsSince(record, standing.issuedAt).map((one) => ` ${changeWords(one, zone)}`)
    return `No part has been changed, and no iron used on it, since it was certified on ${dayIn(standing.issuedAt, zone)}.${since.join('')} ${tested}`
  }
  const [last] = history
  if (!last) return `It has not been certified. ${tested}`
  const why = last.state.is === 'withdrawn' ? ` ${ended(last.state.reason)}` : ''
  return `Yes: its certificate ${last.serial} no longer stands.${why} ${tested}`
}

/** "On 12 March 2027 the reading of B6 Regulated rail, signed as 8.02 V, became 8.04 V. Corrected: a slip of the pen." */
const changeWords = ({ check, title, before, now, why }: Since, zone: string): string =>
  `On ${dayIn(Date.parse(now.takenAt), zone)} the reading of ${check} ${title}, signed as ${shownWithUnit(before)}, became ${shownWithUnit(now)}. ${why}`

const hurtWords = (record: Record): string =>
  record.design.cautions.length > 0
    ? record.design.cautions.map(ended).join(' ')
    : 'No cautions are noted for this design. Your local rules for electrical goods come first.'
