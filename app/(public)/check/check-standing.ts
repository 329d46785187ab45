import { verifyEd25519 } from '#app/_trust/ed25519.ts'
import { fromBase64url } from '#bench/certificates/base64url.rules'
import type { ChosenFile } from '#bench/certificates/chosen-file.rules'
import { openSigned } from '#bench/certificates/jws.rules'
import { sha256Hex } from '#bench/certificates/key-set.rules'
import { checkStanding, listWords, type StandingCheck, takenBack, tellStanding } from '#bench/certificates/status.rules'
import type { CheckedSigned } from './check-signed-file'
import { type Finding, type KeysAtHand, type Value, VERDICTS } from './finding'

/** A file that says how certificates stand, checked; `isOurs` when the key is the house's. */
interface CheckedStanding {
  check: StandingCheck
  isOurs: boolean
}

/** Those of the chosen files, by the name of the file. */
export type Standings = Map<string, CheckedStanding>

export async function readStandings(read: readonly { name: string; file: ChosenFile }[], keys: KeysAtHand): Promise<Standings> {
  const standings: Standings = new Map()
  for (const { name, file } of read) {
    if (!('kind' in file) || file.kind !== 'standing') continue
    const opened = openSigned(file.value)
    const isOurs = 'opened' in opened && keys.house.some(({ kid }) => kid === opened.opened.kid)
    standings.set(name, { check: await checkStanding(file.value, isOurs ? keys.house : keys.brought, verifyEd25519, Date.now()), isOurs })
  }
  return standings
}

/** Every pair of answers that the house signed: what one withdrew, no later one may take back. */
export function comparedStandings(standings: Standings): Finding[] {
  const ours = [...standings].flatMap(([name, { check, isOurs }]) =>
    isOurs && check.outcome === 'holds' ? [{ name, said: check.standing }] : [],
  )
  return ours.flatMap((one, index) =>
    ours.slice(index + 1).flatMap((other): Finding[] => {
      const words = takenBack(one.said, other.said)
      return words === null ? [] : [{ tone: 'bad', about: `${one.name}, ${other.name}`, title: 'A withdrawal was taken back', words }]
    }),
  )
}

const TITLES = { ok: 'It stands', doubt: 'It may stand no longer', bad: 'It does not stand' } as const

/** How the certificate of a file that holds stands, by each of the answers at hand that are of the same house. */
export function tellOfFile(standings: Standings, { document: certificate, isOurs }: CheckedSigned, value: Value, now: number): Finding[] {
  if (!certificate) return []
  const { serial, issuedAt } = certificate
  const document = sha256Hex(fromBase64url(String(value.payload)) ?? new Uint8Array())
  return [...standings].flatMap(([about, { check, isOurs: isTheirs }]) => {
    if (check.outcome !== 'holds' || isOurs !== isTheirs) return []
    const { covers, certificates } = check.standing
    if (covers === 'one' && certificates[0]?.serial !== serial) return []
    const { tone, words } = tellStanding(check.standing, { serial, document, issuedAt }, now)
    return [{ tone, about, title: TITLES[tone], words }]
  })
}

/** What a file says by itself: of one certificate how it stands, of all of them how many do and which were withdrawn. */
export function findingsOfStanding(about: string, { check, isOurs }: CheckedStanding, now: number): Finding[] {
  if (check.outcome !== 'holds') {
    const verdict = check.outcome === 'broken' ? VERDICTS.changed(check.words) : VERDICTS.untold(check.words)
    return [{ about, words: '', ...verdict }]
  }
  const { standing, kid } = check
  const [one] = standing.certificates
  const { tone, words } = standing.covers === 'one' && one ? tellStanding(standing, one, now) : listWords(standing, now)
  const title = standing.covers === 'all' ? 'How all certificates stand' : TITLES[tone]
  const verdict = isOurs ? VERDICTS.ours() : VERDICTS.foreign(kid)
  return [
    { about, words: '', ...verdict },
    { about, tone: isOurs ? tone : 'doubt', title: isOurs ? title : `${title}, by that key`, words },
  ]
}
