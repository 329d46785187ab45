import type { DecisionRule } from '../designs/design.contract'
import { readEntry } from '../units/entry.rules'
import { EVIDENCE_NOUNS, type EvidenceKind } from '../units/evidence.contract'
import type { CertificateResult } from './certificates.contract'

/** The rule by which each verdict was reached (ISO/IEC 17025:2017, 7.8.6; JCGM 106; ILAC-G8), in words for the paper. */
export const DECISION_WORDS: Record<DecisionRule, string> = {
  simple:
    'Simple: a reading passes when it lies within its limits. Its doubt is shown and not counted: near a limit up to 50 in 100 such passes are wrong (ILAC-G8).',
  guarded:
    'Guarded: a reading passes only when it lies within its limits by at least its own doubt (guard band w = U): at most 2.5 in 100 such passes are wrong (ILAC-G8).',
  'guarded-with-doubt':
    'Guarded with doubt: a reading within its limits by at least its own doubt is a pass; within them but nearer than that, a pass within doubt, and shown as such. Of such passes at most 2.5 in 100 are wrong; of those within doubt up to 50 in 100 (ILAC-G8).',
}

export const DOUBT_WORDS =
  'The figure after ± is the expanded uncertainty U with k = 2. It comes from the accuracy of the instrument as its maker writes it, taken as rectangular: everything within ±a alike (a/√3, JCGM 100), which makes U about 1.15 times that accuracy. Where readings were repeated, or further parts were written down, those are added in squares and the whole is taken as normal. What nobody wrote down it does not cover.'

export const PROVES_WORDS = 'It proves that this record is unchanged since it was signed, not that it was true.'

/** The same beside a record that was corrected, or read again in part, after it was signed. */
export const PROVES_EARLIER_WORDS =
  'It proves what was signed, not that it was true; and nothing about the readings that were corrected or taken again since, which this record tells.'

/** The same of a record for which no certificate stands, because none was signed or what was is no longer current. */
export const PROVES_NOTHING_WORDS = 'No certificate stands for it now, so no signature proves anything of this record as it is.'

/** "7.7 to 8.3 V", "at most 5 µV", "at least 15 dB", or null where a check has no limits. */
export function limitsWords({ lower, upper, unit }: { lower: number | null; upper: number | null; unit: string | null }): string | null {
  const tail = unit ? ` ${unit}` : ''
  if (lower !== null && upper !== null)
    return lower === upper ? `exactly ${plain(lower)}${tail}` : `${plain(lower)} to ${plain(upper)}${tail}`
  if (upper !== null) return `at most ${plain(upper)}${tail}`
  if (lower !== null) return `at least ${plain(lower)}${tail}`
  return null
}

/** The same for a narrow column: "7.7 – 8.3", "≤ 5", "≥ 15". */
export function limitsShort({ lower, upper }: { lower: number | null; upper: number | null }): string {
  if (lower !== null && upper !== null) return lower === upper ? plain(lower) : `${plain(lower)} – ${plain(upper)}`
  if (upper !== null) return `≤ ${plain(upper)}`
  return lower !== null ? `≥ ${plain(lower)}` : ''
}

/** How a check is repeated at home, a line for each thing that its maker says of it. */
export function homeLines({ home, caution }: Pick<CertificateResult, 'home' | 'caution'>): { name: string; words: string }[] {
  if (!home) return []
  const lines = [
    { name: 'Caution', words: caution ?? '' },
    { name: 'You need', words: home.needs },
    { name: 'Where to touch', words: home.touch },
    { name: 'Without a meter', words: home.signs },
  ]
  return lines.filter(({ words }) => words !== '')
}

/** What is said once beside all checks that are done at home. */
export const HOME_CAUTION =
  'Never open or touch what carries mains, and never bridge the contacts of a cell or battery with a probe. If you are not sure how to do a check, leave it out. None of this says that the machine is safe.'

/** A number as it is printed: a true minus, and no more digits than it was given. */
export function plain(value: number): string {
  return String(Number(value.toPrecision(10))).replace('-', '−')
}

/** A doubt needs two digits and no more (JCGM 100, 7.2.6). */
export function doubtShort(doubt: number): string {
  if (doubt === 0) return '0'
  const rounded = Number(doubt.toPrecision(2))
  const places = placesOf(doubt)
  return places > 6
    ? rounded.toExponential(1)
    : rounded
        .toFixed(Math.min(places, 6))
        .replace(/(\.\d*?)0$/, '$1')
        .replace(/\.$/, '')
}

export interface Shown {
  shown: string
  unit: string | null
  doubt?: number | null
  lower?: number | null
  upper?: number | null
}

/**
 * A reading in the unit of its check, as doubt and limits stand beside it: "0.0123 A" of a check in mA is 12.3 mA. It has the
 * decimals that were read, and no more than its doubt allows; all that were read where fewer would move it across a limit.
 */
export function shownWithUnit({ shown, unit, doubt = null, lower = null, upper = null }: Shown): string {
  const read = unit === null ? null : readEntry(shown, unit)
  if (!read?.ok) return shown.replace(/^-/, '−')
  const { value, resolution } = read.entry
  const asRead = Math.min(MOST_DECIMALS, Math.max(0, -Math.round(Math.log10(resolution))))
  const places = doubt === null || doubt === 0 ? asRead : Math.min(asRead, placesOf(doubt))
  const side = (figure: number) => [lower, upper].map((limit) => (limit === null ? 0 : Math.sign(figure - limit))).join()
  const short = value.toFixed(places)
  const figure = side(Number(short)) === side(value) ? short : value.toFixed(asRead)
  return `${figure.replace('-', '−')} ${unit}`.trim()
}

const MOST_DECIMALS = 15

/** Where a doubt of two digits ends. */
const placesOf = (doubt: number): number => Math.max(0, 1 - Math.floor(Math.log10(Number(doubt.toPrecision(2)))))

/** How long a soak ran, and whether the house saw it or was told. */
export function soakWords({ hours, coldStarts, seen }: NonNullable<CertificateResult['soak']>): string {
  const starts = coldStarts === 0 ? '' : coldStarts === 1 ? ' and one cold start' : ` and ${coldStarts} cold starts`
  const time = `${plain(hours)} h${starts}`
  return seen === 'observed'
    ? `${time}, observed: the house’s own clock ran for all of it.`
    : `${time}, stated by whoever entered it and not observed here.`
}

/** Who let the work go on past a hold point, and whether a second person did. */
export function releaseWords({ by, hadRead }: Pick<NonNullable<CertificateResult['released']>, 'by' | 'hadRead'>): string {
  return hadRead ? `released by ${by}, who had taken the reading as well.` : `released by ${by}, who had not taken the reading.`
}

/** A fault that was one: still open, or with a cause other than a wrong reading. */
export const isRealFault = ({ cause }: { cause: string | null }): boolean => cause !== 'none'

/** What is said where nothing was changed: never that no fault was found of a machine that had one. */
export function nothingChangedWords(faults: readonly { closedAt: unknown; cause: string | null }[]): string {
  const real = faults.filter(isRealFault)
  if (real.length === 0) return 'No fault was found, and nothing was mended.'
  const many = real.length === 1 ? 'A fault was' : `${real.length} faults were`
  const open = real.filter(({ closedAt }) => closedAt === null).length
  if (open === 0) return `${many} found and put right without changing a part.`
  return open === real.length
    ? `${many} found and ${open === 1 ? 'is' : 'are'} not closed.`
    : `${many} found; ${open} of them ${open === 1 ? 'is' : 'are'} not closed.`
}

/** One sentence for somebody who owns no meter: the design's own, or one made from the figures. */
export function plainSentence(
  result: Pick<CertificateResult, 'plain' | 'kind' | 'shown' | 'unit' | 'lower' | 'upper' | 'verdict'>,
): string {
  if (result.plain) return result.plain
  const limits = limitsWords(result)
  if (result.kind === 'match') return 'What is programmed is, byte for byte, what the design names.'
  if (result.kind === 'yesno') return `Looked at and answered: ${result.shown}.`
  if (result.kind === 'soak') return `Left to run, and watched: ${shownWithUnit(result)}.`
  return limits === null ? `Measured: ${shownWithUnit(result)}.` : `Asked for: ${limits}. Found: ${shownWithUnit(result)}.`
}

/** The verdict on a whole record, in one sentence that a buyer can weigh. */
export function recordSentence({
  checks,
  passed,
  within,
  failed,
  reworks,
  isCertified,
  newer = 0,
  missing = 0,
}: {
  checks: number
  passed: number
  within: number
  failed: number
  reworks: number
  isCertified: boolean
  /** Readings that were corrected or taken again since the certificate was signed. */
  newer?: number
  /** What a certificate would still need, such as a hold point to be released. */
  missing?: number
}): string {
  const mended =
    reworks === 0
      ? ''
      : reworks === 1
        ? ' It was reworked once and measured again.'
        : ` It was reworked ${reworks} times and measured again.`
  const doubt = within === 0 ? '' : `, ${within === 1 ? 'one' : String(within)} of them within doubt`
  if (isCertified && newer === 0 && missing === 0) return `It passed all ${checks} checks${doubt}.${mended}`
  if (passed + failed === 0) return 'Nothing has been tested yet.'
  if (failed > 0) return `Not ready: ${failed === 1 ? 'one check fails' : `${failed} checks fail`}, ${passed} of ${checks} pass.${mended}`
  if (passed < checks) return `Not finished: ${passed} of ${checks} checks have a current pass${doubt}.${mended}`
  const since = newer === 1 ? 'one reading was' : `${newer} readings were`
  const buts = [
    ...(isCertified ? [] : ['no certificate stands for it now']),
    ...(newer === 0 ? [] : [`${since} corrected or taken again after the certificate was signed`]),
    ...(missing === 0 ? [] : [`${missing === 1 ? 'one thing is' : `${missing} things are`} missing for another certificate`]),
  ]
  if (missing === 0 && newer === 0) return `It passed all ${checks} checks${doubt}, but ${buts.join(', and ')}.${mended}`
  return `All ${checks} checks have a current pass${doubt}, but ${buts.join(', and ')}.${mended}`
}

/** "Sweep at B6", "Picture". */
export const evidenceTitle = ({ kind, check }: { kind: EvidenceKind; check: string | null }): string =>
  check === null ? EVIDENCE_NOUNS[kind] : `${EVIDENCE_NOUNS[kind]} at ${check}`
