import type { CertificatePayload } from '#bench/certificates/certificates.contract'
import { type ChosenFile, type FileKind, readChosen } from '#bench/certificates/chosen-file.rules'
import { firstDifference } from '#bench/certificates/difference.rules'
import { type PublicKey, readKeySet, shortKey } from '#bench/certificates/key-set.rules'
import { compareHistories, type NamedHistory } from '#sale/history/compare.rules'
import { type History, historyShape } from '#sale/history/history.contract'
import { checkHistoryFile } from './check-history-file'
import { checkReceiptsFile } from './check-receipts-file'
import { type CheckedSigned, checkSignedFile, claimOf } from './check-signed-file'
import { findingsOfStanding, readStandings, type Standings, tellOfFile } from './check-standing'
import type { Chosen, Finding, KeysAtHand, Value } from './finding'

type Read = { name: string; file: ChosenFile }
/** What the other files tell the check of one: the keys at hand, and a certificate whose signature was found to hold. */
interface Around {
  keys: KeysAtHand
  signed: Map<string, CheckedSigned>
  trusted: CertificatePayload | null
  /** What the house says, signed, of its certificates: those of the files that hold, by the file’s name. */
  standings: Standings
  /** Of a single signed file that does not hold: what it claims, to name where it leaves another telling. */
  claimed: CertificatePayload | null
  histories: readonly History[]
}

/** How each kind of file is checked; a further kind is one more line here and in `kindOf`. */
const CHECKS: Record<FileKind, (name: string, value: Value, around: Around) => Finding[] | Promise<Finding[]>> = {
  keys: (name, value, { keys }) => [keysRead(name, value, keys.house)],
  signed: signedRead,
  standing: standingRead,
  record: compared,
  document: compared,
  history: (name, value, { keys }) => checkHistoryFile(name, value, keys),
  receipts: (name, value, { keys, histories }) => checkReceiptsFile(name, value, keys, histories),
}

/** Checks all files together, so that one can be held against another. `house` are the keys that this browser knows as the house's. */
export async function checkChosen(chosen: readonly Chosen[], house: readonly PublicKey[]): Promise<Finding[]> {
  const read: Read[] = chosen.map(({ name, bytes }) => ({ name, file: readChosen(bytes) }))
  const sets = read.flatMap(({ file }) => ('kind' in file && file.kind === 'keys' ? [readKeySet(file.value)] : []))
  const keys: KeysAtHand = { house, brought: sets.flatMap((set) => ('keys' in set ? set.keys : [])) }
  const standings = await readStandings(read, keys)
  const all = historiesIn(read).map(({ history }) => history)
  const around: Around = { keys, signed: new Map(), trusted: null, standings, claimed: null, histories: all }
  for (const { name, file } of read) {
    if (!('kind' in file) || file.kind !== 'signed') continue
    const check = await checkSignedFile(name, file.value, keys)
    around.signed.set(name, check)
    if (check.document && (check.isOurs || around.trusted === null)) around.trusted = check.document
    else around.claimed ??= claimOf(file.value)
  }
  const findings: Finding[] = []
  for (const { name, file } of read) {
    if ('fault' in file) findings.push({ tone: 'bad', about: name, title: 'It cannot be read', words: file.fault })
    else findings.push(...(await CHECKS[file.kind](name, file.value, around)))
  }
  // A certificate and the file that says how it stands say the same of it: once is enough.
  const told = [...findings, ...comparedAll(historiesIn(read))]
  const isSame = (one: Finding, other: Finding) => one.about === other.about && one.title === other.title && one.words === other.words
  return told.filter((one, index) => told.findIndex((other) => isSame(one, other)) === index)
}

function keysRead(name: string, value: Value, house: readonly PublicKey[]): Finding {
  const set = readKeySet(value)
  if ('fault' in set) return { tone: 'bad', about: name, title: 'Not a set of keys to rely on', words: set.fault }
  const named = set.keys.map(
    ({ kid }) => `${shortKey(kid)} … (${house.some((key) => key.kid === kid) ? 'this house’s' : 'not named by this house'})`,
  )
  return {
    tone: 'info',
    about: name,
    title: set.keys.length === 1 ? 'A key was read' : `${set.keys.length} keys were read`,
    words: `${named.join(', ')}. A key from a file is the house’s only where the house names it too. Compare the fingerprint with the one on the paper in the box or on the stream.`,
  }
}

function signedRead(name: string, value: Value, { signed, trusted, standings }: Around): Finding[] {
  const check = signed.get(name)
  if (!check) return []
  const claimed = check.document || !trusted ? null : claimOf(value)
  if (claimed && trusted) return [check.finding, ...differenceOf(name, trusted, claimed)]
  if (!check.document) return [check.finding]
  const told = tellOfFile(standings, check, value, Date.now())
  const words = `${check.finding.words} Whether it still stands is in no file here: choose how it stands (status.json), or the list of all (certificates.json).`
  return told.length > 0 ? [check.finding, ...told] : [{ ...check.finding, words }]
}

function standingRead(name: string, _value: Value, { standings }: Around): Finding[] {
  const check = standings.get(name)
  return check ? findingsOfStanding(name, check, Date.now()) : []
}

function compared(name: string, value: Value, { trusted, claimed }: Around): Finding[] {
  if (trusted) return differenceOf(name, trusted, value)
  if (claimed?.results) {
    const [found] = differenceOf(name, claimed, value)
    return found ? [{ ...found, tone: 'doubt', title: `Neither is proved. ${found.title}` }] : []
  }
  return [
    {
      tone: 'doubt',
      about: name,
      title: 'A record without a signature proves nothing by itself',
      words: 'Choose the signed record (“Signed record, JSON” on the certificate’s page) together with it, and they are compared.',
    },
  ]
}

function differenceOf(name: string, trusted: CertificatePayload, value: object): Finding[] {
  const difference = firstDifference(trusted, value as Value)
  return difference
    ? [{ tone: 'bad', about: name, title: 'It says something else than what was signed', words: `First at: ${difference.words}` }]
    : [{ tone: 'ok', about: name, title: 'It says the same as what was signed', words: `Compared field by field with ${trusted.serial}.` }]
}

const historiesIn = (read: readonly Read[]): NamedHistory[] =>
  read.flatMap(({ name, file }) => {
    const parsed = 'kind' in file && file.kind === 'history' ? historyShape.safeParse(file.value) : null
    return parsed?.success ? [{ name, history: parsed.data }] : []
  })

/** The first history that was chosen, held against each other one. */
const comparedAll = ([first, ...others]: readonly NamedHistory[]): Finding[] =>
  first ? others.map((other) => comparedHistories(first, other)) : []

const COMPARED = {
  same: { tone: 'ok', title: 'The two histories are the same' },
  beginning: { tone: 'ok', title: 'One history is the beginning of the other' },
  contradiction: { tone: 'bad', title: 'The two histories contradict each other' },
  'another-lot': { tone: 'doubt', title: 'The two histories are of two lots' },
} as const

/** Two histories of one lot, in words. */
export function comparedHistories(one: NamedHistory, other: NamedHistory): Finding {
  const { is, words } = compareHistories(one, other)
  return { ...COMPARED[is], about: `${one.name}, ${other.name}`, words }
}
