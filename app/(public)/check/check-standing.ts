import { verifyEd25519 } from '#app/_trust/ed25519.ts'
import { fromBase64url } from '#bench/certificates/base64url.rules'
import type { CertificatePayload } from '#bench/certificates/certificates.contract'
import type { ChosenFile } from '#bench/certificates/chosen-file.rules'
import { openSigned } from '#bench/certificates/jws.rules'
import { sha256Hex } from '#bench/certificates/key-set.rules'
import type { StandingPayload } from '#bench/certificates/status.contract'
import { checkStanding, listWords, minuteOf, type StandingCheck, tellStanding } from '#bench/certificates/status.rules'
import { contradiction, faultBetween, takenBack, withdrawnBy } from '#bench/certificates/together.rules'
import type { CheckedSigned } from './check-signed-file'
import { type Finding, type KeysAtHand, type Value, VERDICTS } from './finding'

/** A file that says how certificates stand, checked; `isOurs` when the key is the house's. */
interface CheckedStanding {
  check: StandingCheck
  isOurs: boolean
  /** Who signed it, or claims to have; null where it does not even say so. */
  kid: string | null
  isAtHand: boolean
}

/** Those of the chosen files, by the name of the file. */
export type Standings = Map<string, CheckedStanding>

export async function readStandings(read: readonly { name: string; file: ChosenFile }[], keys: KeysAtHand): Promise<Standings> {
  const standings: Standings = new Map()
  for (const { name, file } of read) {
    if (!('kind' in file) || file.kind !== 'standing') continue
    const opened = openSigned(file.value)
    const isOurs = 'opened' in opened && keys.house.some(({ kid }) => kid === opened.opened.kid)
    const check = await checkStanding(file.value, isOurs ? keys.house : keys.brought, verifyEd25519, Date.now())
    const kid = 'fault' in opened ? null : opened.opened.kid
    const isAtHand = [...keys.house, ...keys.brought].some((key) => key.kid === kid)
    standings.set(name, { check, isOurs, kid, isAtHand })
  }
  return standings
}

/** Every pair of what the house signed of its certificates: what one withdrew, no later one may take back or leave out. */
export function comparedStandings(standings: Standings, trusted: readonly CertificatePayload[]): Finding[] {
  const ours = [...standings].flatMap(([name, { check, isOurs }]) =>
    isOurs && check.outcome === 'holds' ? [{ name, said: check.standing }] : [],
  )
  const denied = ours.flatMap(({ name, said }) =>
    trusted.flatMap((certificate): Finding[] => {
      const words = faultBetween(certificate, said)
      return words === null ? [] : [{ tone: 'bad', about: `${name}, ${certificate.serial}`, title: titleOf(words), words }]
    }),
  )
  const pairs = ours.flatMap((one, index) =>
    ours.slice(index + 1).flatMap((other): Finding[] => {
      const words = takenBack(one.said, other.said)
      return words === null ? [] : [{ tone: 'bad', about: `${one.name}, ${other.name}`, title: titleOf(words), words }]
    }),
  )
  const certificates = trusted.flatMap((one, index) =>
    trusted.slice(index + 1).flatMap((other): Finding[] => {
      const words = contradiction(one, other)
      return words === null ? [] : [{ tone: 'bad', about: `${one.serial}, ${other.serial}`, title: titleOf(words), words }]
    }),
  )
  return [...denied, ...pairs, ...certificates]
}

const titleOf = (words: string) =>
  words.includes(' does not say so')
    ? 'A withdrawal is not told'
    : words.includes(' was withdrawn ')
      ? 'A withdrawal was taken back'
      : words.startsWith('The house signed two')
        ? 'Two certificates under one serial'
        : 'What was said of a certificate was taken back'

const TITLES = { ok: 'It stands', doubt: 'It may no longer stand', bad: 'It does not stand' } as const

/** What tells how certificates stand: the answers, and the certificates that name those of their machine that were withdrawn. */
export interface News {
  standings: Standings
  signed: ReadonlyMap<string, CheckedSigned>
}

/** How the certificate of a file that holds stands, by all that is at hand of the same house. */
export function tellOfFile(news: News, { document: certificate, isOurs }: CheckedSigned, value: Value, now: number): Finding[] {
  if (!certificate) return []
  const { serial, issuedAt } = certificate
  const document = sha256Hex(fromBase64url(String(value.payload)) ?? new Uint8Array())
  const told = [...news.standings].flatMap(([about, { check, isOurs: isTheirs }]) => {
    if (check.outcome !== 'holds' || isOurs !== isTheirs) return []
    const { covers, certificates } = check.standing
    if (covers === 'one' && certificates[0]?.serial !== serial) return []
    const told = tellStanding(check.standing, { serial, document, issuedAt }, now)
    return [staleOr({ tone: told.tone, about, title: TITLES[told.tone], words: told.words }, [serial], check.standing, news, isOurs)]
  })
  const gone = told.some(({ tone }) => tone === 'bad') ? undefined : goneBy(news, [serial], isOurs)
  return gone ? [...told, { tone: 'bad', about: gone.name, title: TITLES.bad, words: gone.words }] : told
}

/** The first of some certificates that another of the same house says was withdrawn. */
function goneBy({ signed }: News, serials: readonly string[], isOurs: boolean): { name: string; words: string } | undefined {
  for (const [name, { document, isOurs: isTheirs }] of signed) {
    if (!document || isTheirs !== isOurs) continue
    const words = serials.map((serial) => withdrawnBy(document, serial)).find((one) => one !== null)
    if (words) return { name, words }
  }
  return undefined
}

/** What a file says by itself: of one certificate how it stands, of all of them how many do and which were withdrawn. */
export function findingsOfStanding(about: string, news: News, hasKeys: boolean, now: number): Finding[] {
  const checked = news.standings.get(about)
  if (!checked) return []
  const { check, isOurs, kid, isAtHand } = checked
  if (kid !== null && !isAtHand && hasKeys)
    return [{ about, words: 'Another house made it, or its key is newer than the keys at hand.', ...VERDICTS.stranger(kid) }]
  if (check.outcome !== 'holds') {
    const whole = isOurs || kid === null ? VERDICTS.wrong(check.words) : VERDICTS.foreign(kid)
    const broken = check.isWhole ? whole : VERDICTS.changed(check.words)
    return [{ about, words: '', ...(check.outcome === 'broken' ? broken : VERDICTS.untold(check.words)) }]
  }
  const { standing } = check
  const [one] = standing.certificates
  const { tone, words } = standing.covers === 'one' && one ? tellStanding(standing, one, now) : listWords(standing, now)
  const title = standing.covers === 'all' ? 'How all certificates stand' : TITLES[tone]
  const verdict = isOurs ? VERDICTS.ours() : VERDICTS.foreign(check.kid)
  return [
    { about, words: '', ...verdict },
    isOurs
      ? staleOr({ about, tone, title, words }, currentIn(standing), standing, news, true)
      : { about, tone: 'doubt', title: `${title}, by that key`, words },
  ]
}

/** An answer beside a newer one, by which a certificate that it has as current stands no longer, says how it was and not how it is. */
function staleOr(found: Finding, serials: readonly string[], said: StandingPayload, news: News, isOurs: boolean): Finding {
  if (found.tone !== 'ok') return found
  const so = `That is what the house said on ${minuteOf(said.saidAt)}.`
  for (const [name, { check, isOurs: isTheirs }] of news.standings) {
    if (check.outcome !== 'holds' || isTheirs !== isOurs || check.standing.saidAt <= said.saidAt) continue
    const ended = check.standing.certificates.find(({ serial, is }) => is !== 'current' && serials.includes(serial))
    if (!ended) continue
    const words = `${so} ${name} is newer, and says that ${ended.serial} was ${ended.is} since.`
    return { ...found, tone: 'doubt', title: 'It stood then, but no longer does', words }
  }
  const gone = goneBy(news, serials, isOurs)
  return gone ? { ...found, tone: 'doubt', title: 'It stood then, but no longer does', words: `${so} ${gone.words}` } : found
}

const currentIn = ({ certificates }: StandingPayload) => certificates.filter(({ is }) => is === 'current').map(({ serial }) => serial)
