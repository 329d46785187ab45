import type { CertificatePayload } from '#bench/certificates/certificates.contract'
import { type ChosenFile, type FileKind, readChosen } from '#bench/certificates/chosen-file.rules'
import { firstDifference } from '#bench/certificates/difference.rules'
import { type PublicKey, readKeySet, shortKey } from '#bench/certificates/key-set.rules'
import { changedSince, sinceWords } from '#bench/certificates/since-signed.rules'
import type { NamedHistory } from '#sale/history/compare.rules'
import { type CheckedHistory, checkHistoryFile } from './check-history-file'
import { checkReceiptsFile } from './check-receipts-file'
import { type CheckedSigned, checkSignedFile, claimedCertificate, claimOf } from './check-signed-file'
import { comparedStandings, findingsOfStanding, readStandings, type Standings, tellOfFile } from './check-standing'
import { comparedAll } from './compare-chosen'
import type { Chosen, Finding, KeysAtHand, Value } from './finding'

type Read = { name: string; file: ChosenFile }
/** What the other files tell the check of one: the keys at hand, and what of each signed file was found to hold. */
interface Around {
  keys: KeysAtHand
  signed: Map<string, CheckedSigned>
  /** The certificates that the house signed. */
  trusted: readonly CertificatePayload[]
  /** What the house says, signed, of its certificates: those of the files that hold, by the file’s name. */
  standings: Standings
  /** What the other signed files claim: only to name where one leaves another telling. */
  claimed: readonly CertificatePayload[]
  checkedHistories: Map<string, CheckedHistory>
  /** The histories that the house signed. */
  histories: readonly NamedHistory[]
}

/** How each kind of file is checked; a further kind is one more line here and in `kindOf`. */
const CHECKS: Record<FileKind, (name: string, value: Value, around: Around) => Finding[] | Promise<Finding[]>> = {
  keys: (name, value, { keys }) => [keysRead(name, value, keys.house)],
  signed: signedRead,
  standing: standingRead,
  record: compared,
  document: compared,
  history: (name, _value, { checkedHistories }) => checkedHistories.get(name)?.findings ?? [],
  receipts: (name, value, { keys, histories }) => checkReceiptsFile(name, value, keys, histories),
}

/** Checks all files together, so that one can be held against another. `house` are the keys that this browser knows as the house's. */
export async function checkChosen(chosen: readonly Chosen[], house: readonly PublicKey[]): Promise<Finding[]> {
  const read: Read[] = namedApart(chosen).map(({ name, bytes }) => ({ name, file: readChosen(bytes) }))
  const sets = read.flatMap(({ file }) => ('kind' in file && file.kind === 'keys' ? [readKeySet(file.value)] : []))
  const keys: KeysAtHand = { house, brought: sets.flatMap((set) => ('keys' in set ? set.keys : [])) }
  const around = await readAround(read, keys)
  const findings: Finding[] = []
  for (const { name, file } of read) {
    if ('fault' in file) findings.push(unreadable(name, file.fault))
    else findings.push(...(await judged(() => CHECKS[file.kind](name, file.value, around), [unreadable(name)])))
  }
  // A certificate and the file that says how it stands say the same of it: once is enough.
  const told = [...findings, ...comparedStandings(around.standings, around.trusted), ...comparedAll(around.histories)]
  const isSame = (one: Finding, other: Finding) => one.about === other.about && one.title === other.title && one.words === other.words
  return told.filter((one, index) => told.findIndex((other) => isSame(one, other)) === index)
}

const unreadable = (
  about: string,
  words = 'Its content is in no form that a house writes. Use the file exactly as the house gave it.',
): Finding => ({
  tone: 'bad',
  about,
  title: 'It cannot be read',
  words,
})

/** Whatever stands in one file, it keeps no other from being judged. */
async function judged<Judgement>(judge: () => Judgement | Promise<Judgement>, otherwise: Judgement): Promise<Judgement> {
  try {
    return await judge()
  } catch {
    return otherwise
  }
}

/** Two files of one name are two files: the second is called “status.json (2)”. */
function namedApart(chosen: readonly Chosen[]): Chosen[] {
  const taken = new Set<string>()
  return chosen.map(({ name, bytes }) => {
    let own = name
    for (let count = 2; taken.has(own); count += 1) own = `${name} (${count})`
    taken.add(own)
    return { name: own, bytes }
  })
}

async function readAround(read: readonly Read[], keys: KeysAtHand): Promise<Around> {
  const signed: Around['signed'] = new Map()
  const checkedHistories: Around['checkedHistories'] = new Map()
  const [trusted, claimed, histories]: [CertificatePayload[], CertificatePayload[], NamedHistory[]] = [[], [], []]
  for (const { name, file } of read) {
    if ('kind' in file && file.kind === 'history') {
      const check = await judged(() => checkHistoryFile(name, file.value, keys), { findings: [unreadable(name)], ours: null })
      checkedHistories.set(name, check)
      if (check.ours) histories.push({ name, history: check.ours })
    } else if ('kind' in file && file.kind === 'signed') {
      const check = await checkSignedFile(name, file.value, keys)
      signed.set(name, check)
      const claim = check.document ?? claimedCertificate(file.value)
      if (check.document && check.isOurs) trusted.push(check.document)
      else if (claim) claimed.push(claim)
    }
  }
  return { keys, signed, trusted, standings: await readStandings(read, keys), claimed, checkedHistories, histories }
}

function keysRead(name: string, value: Value, house: readonly PublicKey[]): Finding {
  const set = readKeySet(value)
  if ('fault' in set) return { tone: 'bad', about: name, title: 'These keys cannot be relied on', words: set.fault }
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
  const claimed = check.document ? null : claimOf(value)
  const own = claimed && ownOf(trusted, claimed)
  if (claimed && own) return [check.finding, ...differenceOf(name, own, claimed)]
  if (!check.document) return [check.finding]
  const told = tellOfFile({ standings, signed }, check, value, Date.now())
  const words = `${check.finding.words} None of these files says whether it still stands: choose how it stands (status.json), or the list of all (certificates.json).`
  return told.length > 0 ? [check.finding, ...told] : [{ ...check.finding, words }]
}

function standingRead(name: string, _value: Value, { standings, signed, keys }: Around): Finding[] {
  return findingsOfStanding(name, { standings, signed }, keys.house.length + keys.brought.length > 0, Date.now())
}

function compared(name: string, value: Value, { trusted, claimed }: Around): Finding[] {
  const own = ownOf(trusted, value)
  if (own) return differenceOf(name, own, value)
  const claim = ownOf(claimed, value)
  if (claim?.results) {
    const [found] = differenceOf(name, claim, value)
    return found ? [{ ...found, tone: 'doubt', title: `Neither is proved. ${found.title}` }] : []
  }
  return [
    {
      tone: 'doubt',
      about: name,
      title: 'A record without a signature proves nothing by itself',
      words: `${trusted.length > 0 ? 'None of the signed records chosen with it is of this machine. ' : ''}Choose its signed record (“Signed record, JSON” on the certificate’s page) together with it, and they are compared.`,
    },
  ]
}

/** The certificate that a record is of: the one that it names, or else the newest of its machine. */
function ownOf(certificates: readonly CertificatePayload[], value: Value): CertificatePayload | null {
  const serial = value.serial ?? String(value.certificate ?? '').replace('/certificates/', '')
  const tag = (value.item as Value | undefined)?.tag ?? value.tag
  const ofMachine = certificates.filter(({ item }) => item?.tag === tag).sort((a, b) => (a.issuedAt < b.issuedAt ? -1 : 1))
  return certificates.find((one) => one.serial === serial) ?? ofMachine.at(-1) ?? null
}

/** A unit's record names the certificate that stands for it, or none. */
const namesAnother = ({ serial }: CertificatePayload, { kind, certificate }: Value) =>
  kind === 'tagstrip-record' && certificate !== null && certificate !== `/certificates/${serial}`

const toldName = (certificate: unknown) =>
  typeof certificate === 'string' ? certificate.replace('/certificates/', '').slice(0, 80) : 'none by a serial'

function differenceOf(name: string, trusted: CertificatePayload, value: Value): Finding[] {
  const difference = firstDifference(trusted, value)
  if (difference) return [{ tone: 'bad', about: name, title: 'It differs from what was signed', words: `First at: ${difference.words}` }]
  const since = changedSince(trusted, value)
  if (namesAnother(trusted, value))
    return [
      {
        tone: 'doubt',
        about: name,
        title: 'It names another certificate than the one at hand',
        words: `It was compared with ${trusted.serial}, and names ${toldName(value.certificate)}. What follows from that one, its sentence too, cannot be checked here: choose the signed record that it names.`,
      },
    ]
  if (since.length === 0)
    return [
      { tone: 'ok', about: name, title: 'It says the same as what was signed', words: `Compared field by field with ${trusted.serial}.` },
    ]
  const words = `${since.map(sinceWords).join(' ')} All else is as in ${trusted.serial}. The signature proves what was signed and nothing of what came later: that is the word of whoever keeps the record, unsigned. Its status.json says whether the certificate still stands.`
  const how = since.every(({ why }) => why.startsWith('Corrected: ')) ? 'corrected' : 'read again in part'
  return [{ tone: 'doubt', about: name, title: `It was ${how} since it was signed, and says so`, words }]
}
