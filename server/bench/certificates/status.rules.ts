import { DAY, type Instant, MINUTE, toIso } from '#kernel/instant'
import type { VerifyEd25519 } from './check.rules'
import { openSigned, parsedCanonical } from './jws.rules'
import { type PublicKey, shortKey } from './key-set.rules'
import { type CertificateStatus, type StandingPayload, standingPayload } from './status.contract'

/** How long an answer may be relied on: a certificate can be withdrawn at any hour, so it is not for long. */
export const RELIED_ON_FOR = DAY
/** What the clock of whoever checks may be behind the house's. */
const CLOCKS_DIFFER = 10 * MINUTE

export function draftStanding({
  covers,
  certificates,
  now,
  home,
}: {
  covers: StandingPayload['covers']
  certificates: readonly CertificateStatus[]
  now: Instant
  home: string
}): StandingPayload {
  return standingPayload.parse({
    kind: 'tagstrip-standing',
    version: 1,
    covers,
    saidAt: toIso(now),
    until: toIso(now + RELIED_ON_FOR),
    certificates,
    links: { home, list: '/certificates.json', keys: '/.well-known/jwks.json' },
  })
}

export type StandingCheck =
  | { outcome: 'holds'; standing: StandingPayload; kid: string }
  /** `isWhole`: a key at hand signed it and nothing was changed, but what was signed does not hold by its own rules. */
  | { outcome: 'broken' | 'unable'; words: string; isWhole?: true }

/** Checks what a house says of its certificates from the file and the keys at hand alone; nobody is asked. */
export async function checkStanding(
  input: unknown,
  keys: readonly PublicKey[],
  verify: VerifyEd25519,
  now: Instant,
): Promise<StandingCheck> {
  const read = openSigned(input)
  if ('fault' in read) return { outcome: 'broken', words: read.fault }
  const { kid, payload, signed, signature } = read.opened
  if (keys.length === 0)
    return { outcome: 'unable', words: 'There is no key at hand to check it with. Choose the key set (jwks.json) as well.' }
  const key = keys.find((one) => one.kid === kid)
  if (!key) return { outcome: 'broken', words: `It was signed with the key ${shortKey(kid)} …, which is none of those at hand.` }
  if (!(await verify(key.x, signature, signed)))
    return { outcome: 'broken', words: 'The signature does not fit: something in it was changed after it was signed.' }
  const document = standingPayload.safeParse(parsedCanonical(payload))
  if (!document.success) return { outcome: 'broken', words: 'What was signed is not what a house says of its certificates.', isWhole: true }
  const fault = faultIn(document.data, now)
  return fault ? { outcome: 'broken', words: fault, isWhole: true } : { outcome: 'holds', standing: document.data, kid }
}

/** What a signed answer must not say, whoever signed it. */
function faultIn({ covers, certificates, saidAt, until }: StandingPayload, now: Instant): string | null {
  if (Date.parse(saidAt) > now + CLOCKS_DIFFER)
    return `It was said on ${minuteOf(saidAt)}, which is yet to come by the clock of this device.`
  if (until < saidAt) return 'It may be relied on until before it was said, which cannot be.'
  if (Date.parse(until) - Date.parse(saidAt) > RELIED_ON_FOR) return 'It claims to be relied on for longer than a day after it was said.'
  if (covers === 'one' && certificates.length !== 1) return 'It claims to speak of one certificate, and does not.'
  const bySerial = new Map(certificates.map((one) => [one.serial, one]))
  const places = new Map(certificates.map(({ serial }, place) => [serial, place]))
  // They stand in the order of issue, so none that follows another stands before it: no circle is possible.
  const isBehind = (next: CertificateStatus, one: CertificateStatus) => Number(places.get(next.serial)) < Number(places.get(one.serial))
  if (bySerial.size !== certificates.length) return 'It names a serial twice.'
  for (const one of certificates) {
    if (one.issuedAt > saidAt) return `It speaks of ${one.serial} before that was issued.`
    if (one.is === 'current') continue
    if (one.is === 'withdrawn' && one.reason.trim() === '') return `${one.serial} was withdrawn without a reason.`
    if (one.at < one.issuedAt || one.at > saidAt) return `${one.serial} ended at a time that cannot be.`
    const next = one.by === null ? undefined : bySerial.get(one.by)
    if (one.by === one.serial || (covers === 'all' && one.by !== null && !next)) return `What follows ${one.serial} is not in the list.`
    if (next && (next.unit !== one.unit || next.issuedAt < one.issuedAt || isBehind(next, one)))
      return `${next.serial} cannot follow ${one.serial}.`
  }
  const current = certificates.filter(({ is }) => is === 'current')
  return new Set(current.map(({ unit }) => unit)).size === current.length ? null : 'It holds two certificates of one unit.'
}

export interface Told {
  tone: 'ok' | 'doubt' | 'bad'
  words: string
}

/** How one certificate stands by a signed answer, in words. `document` is the digest of what was signed, where it is at hand. */
export function tellStanding(
  { covers, certificates, saidAt, until }: StandingPayload,
  { serial, document, issuedAt }: { serial: string; document?: string; issuedAt?: string },
  now: Instant,
): Told {
  const one = certificates.find((status) => status.serial === serial)
  if (!one) {
    if (covers === 'one') return { tone: 'doubt', words: `This answer speaks of ${certificates[0]?.serial}, not of ${serial}.` }
    if (issuedAt !== undefined && issuedAt > saidAt)
      return { tone: 'doubt', words: `The list is of ${minuteOf(saidAt)}, from before ${serial} was issued. Fetch a newer one.` }
    return { tone: 'bad', words: `By its list of ${minuteOf(saidAt)} the house had issued no certificate ${serial}.` }
  }
  if (document !== undefined && document !== one.document)
    return { tone: 'bad', words: `The house issued another document under ${serial} than the one at hand.` }
  if (one.is === 'withdrawn') return { tone: 'bad', words: withdrawnWords(one) }
  if (one.is === 'superseded')
    return {
      tone: 'doubt',
      words: `${serial} was superseded on ${one.at.slice(0, 10)} by ${one.by}, which stands in its place or was followed in turn.`,
    }
  if (now > Date.parse(until))
    return {
      tone: 'doubt',
      words: `${serial} stood on ${minuteOf(saidAt)}. That answer may be relied on until ${minuteOf(until)}, which is past: fetch a newer one.`,
    }
  return {
    tone: 'ok',
    words: `${serial} stands: the house said so on ${minuteOf(saidAt)}, and it may be relied on until ${minuteOf(until)}.`,
  }
}

/** What a list says as a whole, in words. */
export function listWords({ certificates, saidAt, until }: StandingPayload, now: Instant): Told {
  const count = (is: CertificateStatus['is']) => certificates.filter((one) => one.is === is).length
  const withdrawn = certificates.filter(({ is }) => is === 'withdrawn').map(({ serial }) => serial)
  const named =
    withdrawn.length === 0 ? 'none was withdrawn' : `withdrawn ${withdrawn.length === 1 ? 'was' : 'were'} ${withdrawn.join(', ')}`
  const isOver = now > Date.parse(until)
  return {
    tone: isOver ? 'doubt' : 'ok',
    words: `On ${minuteOf(saidAt)}: ${certificates.length} issued, ${count('current')} stand, ${count('superseded')} superseded, ${named}. ${isOver ? `It might be relied on until ${minuteOf(until)}, which is past: fetch a newer one.` : `It may be relied on until ${minuteOf(until)}.`}`,
  }
}

function withdrawnWords({ serial, at, reason, again, by }: Extract<CertificateStatus, { is: 'withdrawn' }>): string {
  const named = again.length > 0 ? ` To be measured again: ${again.join(', ')}.` : ''
  const after = by === null ? ' No other was issued after it.' : ` ${by} was issued after it.`
  return `${serial} was withdrawn on ${at.slice(0, 10)}: ${withStop(reason)}${named}${after}`
}

const withStop = (words: string) => (/[.!?]$/.test(words) ? words : `${words}.`)

/** "2027-03-13 12:00 UTC" */
export const minuteOf = (iso: string) => `${iso.slice(0, 16).replace('T', ' ')} UTC`
