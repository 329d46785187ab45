import { withoutAtEnd } from '#kernel/text'
import type { CertificatePayload } from './certificates.contract'
import { canonicalText } from './jws.rules'
import type { CertificateStatus, StandingPayload } from './status.contract'
import { minuteOf } from './status.rules'

/** What one house signed at several times, held together: where two files of it contradict each other, in words. */

/** Where a later answer does not say of a serial what an earlier one said of it, in words. A serial can have ended since, once. */
export function takenBack(one: StandingPayload, other: StandingPayload): string | null {
  const [earlier, later] = one.saidAt <= other.saidAt ? [one, other] : [other, one]
  const bySerial = new Map(later.certificates.map((entry) => [entry.serial, entry]))
  for (const before of earlier.certificates) {
    const { serial, is } = before
    const after = bySerial.get(serial)
    if (after ? isKept(before, after) : later.covers === 'one') continue
    const was = is === 'superseded' ? `superseded by ${before.by}` : is
    const since = after ? `is told ${is === after.is ? 'otherwise' : `as ${after.is}`} on` : 'is not in the list any more of'
    return `${serial} was ${was} by what the house said on ${minuteOf(earlier.saidAt)}, and ${since} ${minuteOf(later.saidAt)}. A certificate ends once and is never current again, and nothing else of it is changed: keep both files.`
  }
  return null
}

/** What stays as it was said, whatever was said of it; what took its place, too, unless that was still to come. */
function isKept(before: CertificateStatus, after: CertificateStatus): boolean {
  const isSame = (names: readonly string[]) => canonicalText(only(before, names)) === canonicalText(only(after, names))
  if (!isSame(['unit', 'issuedAt', 'document'])) return false
  if (before.is === 'current') return true
  if (before.is !== after.is) return after.is === 'withdrawn'
  return isSame(['at', 'reason', 'again']) && (before.by === null || isSame(['by']))
}

const only = (entry: CertificateStatus, names: readonly string[]) =>
  Object.fromEntries(Object.entries(entry).filter(([name]) => names.includes(name)))

/** Where an answer contradicts a certificate that it is not asked about, or knows it as of another machine, in words. */
export const faultBetween = (certificate: CertificatePayload, said: StandingPayload): string | null =>
  withdrawalDenied(certificate, said) ?? withdrawalHidden(certificate, said) ?? otherMachine(certificate, said)

/** Where an answer does not know what a certificate says of an earlier one of its machine, in words. */
function withdrawalDenied(
  { serial: by, withdrawn = [] }: CertificatePayload,
  { covers, certificates, saidAt }: StandingPayload,
): string | null {
  for (const { serial, at } of withdrawn) {
    const told = certificates.find((one) => one.serial === serial)
    if (at > saidAt || told?.is === 'withdrawn' || (!told && covers === 'one')) continue
    return `${by} says that ${serial} was withdrawn on ${minuteOf(at)}, and on ${minuteOf(saidAt)} the house told it as ${told?.is ?? 'never issued'}. Nothing withdrawn is ever current again: keep both files.`
  }
  return null
}

/** What a certificate says of an earlier one that was withdrawn, in words: it is news of that one, beside whatever answer. */
export function withdrawnBy({ serial: by, withdrawn = [] }: CertificatePayload, serial: string): string | null {
  const gone = withdrawn.find((one) => one.serial === serial)
  return gone
    ? `${serial} was withdrawn on ${minuteOf(gone.at)}: ${withoutAtEnd(gone.reason, '.')}. So says ${by}, which was signed after that.`
    : null
}

/** A certificate that was signed after another of its machine was withdrawn says so; those of before this was kept could not. */
function withdrawalHidden({ serial: by, item, issuedAt, withdrawn }: CertificatePayload, { certificates }: StandingPayload): string | null {
  for (const gone of certificates) {
    if (gone.is !== 'withdrawn' || gone.unit !== item.tag || gone.at >= issuedAt || (!withdrawn && gone.again.length === 0)) continue
    if (!withdrawn?.some(({ serial, at }) => serial === gone.serial && at === gone.at))
      return `${by} was signed after ${gone.serial}, of the same machine, was withdrawn on ${minuteOf(gone.at)}, and does not say so: keep both files.`
  }
  return null
}

function otherMachine({ serial, item, issuedAt }: CertificatePayload, { certificates, saidAt }: StandingPayload): string | null {
  const told = certificates.find((one) => one.serial === serial)
  if (!told || (told.unit === item.tag && told.issuedAt === issuedAt)) return null
  return `${serial} is of ${item.tag}, signed on ${minuteOf(issuedAt)}; on ${minuteOf(saidAt)} the house told it as of ${told.unit}, signed on ${minuteOf(told.issuedAt)}: keep both files.`
}

/** Where two certificates of one house cannot both have been signed in good faith, in words. */
export function contradiction(one: CertificatePayload, other: CertificatePayload): string | null {
  if (one.serial === other.serial)
    return canonicalText(one) === canonicalText(other)
      ? null
      : `The house signed two different certificates ${one.serial}: keep both files.`
  const [earlier, later] = one.issuedAt <= other.issuedAt ? [one, other] : [other, one]
  if (earlier.item.tag !== later.item.tag || !later.withdrawn) return null
  const left = earlier.withdrawn?.find(({ serial }) => !later.withdrawn?.some((kept) => kept.serial === serial))
  return left
    ? `${earlier.serial} says that ${left.serial} was withdrawn, and ${later.serial}, signed later for the same machine, does not say so any more: keep both files.`
    : null
}
