import { verifyEd25519 } from '#app/_trust/ed25519.ts'
import type { CertificatePayload, SignedCertificate } from '#bench/certificates/certificates.contract'
import { checkSigned, type SignedCheck, unbelievedPayload } from '#bench/certificates/check.rules'
import { type ChosenFile, type FileKind, readChosen } from '#bench/certificates/chosen-file.rules'
import { firstDifference } from '#bench/certificates/difference.rules'
import { type PublicKey, readKeySet, shortKey } from '#bench/certificates/key-set.rules'
import { checkHistory, signedHeads } from '#sale/history/check-history.rules'
import { type History, historyShape } from '#sale/history/history.contract'

export interface Finding {
  tone: 'ok' | 'bad' | 'doubt' | 'info'
  /** Which file it speaks of. */
  about: string
  title: string
  words: string
  /** Where more stands, as the certificate's own page. */
  link?: { href: string; label: string }
  /** A history that holds: its price path can be drawn. */
  history?: History
}

export interface Chosen {
  name: string
  bytes: Uint8Array
}

type Value = Record<string, unknown>
type Read = { name: string; file: ChosenFile }
/** What the other files tell the check of one: the keys at hand, and a certificate whose signature was found to hold. */
interface Around {
  keys: readonly PublicKey[]
  signed: Map<string, SignedCheck>
  trusted: CertificatePayload | null
  /** Of a single signed file that does not hold: what it claims, to name where it leaves another telling. */
  claimed: CertificatePayload | null
}

/** How each kind of file is checked; a further kind is one more line here and in `kindOf`. */
const CHECKS: Record<FileKind, (name: string, value: Value, around: Around) => Finding[] | Promise<Finding[]>> = {
  keys: (name, value) => [keysRead(name, value)],
  signed: signedRead,
  record: compared,
  document: compared,
  history: historyRead,
}

/** Checks all files together, so that one can be held against another. `known` are the keys that this browser has of the house. */
export async function checkChosen(chosen: readonly Chosen[], known: readonly PublicKey[]): Promise<Finding[]> {
  const read: Read[] = chosen.map(({ name, bytes }) => ({ name, file: readChosen(bytes) }))
  const brought = read.flatMap(({ file }) => ('kind' in file && file.kind === 'keys' ? [readKeySet(file.value)] : []))
  const keys = [...known, ...brought.flatMap((set) => ('keys' in set ? set.keys : []))]
  const around: Around = { keys, signed: new Map(), trusted: null, claimed: null }
  for (const { name, file } of read) {
    if (!('kind' in file) || file.kind !== 'signed') continue
    const check = await checkSigned(file.value, keys, verifyEd25519)
    around.signed.set(name, check)
    if (check.outcome === 'holds') around.trusted ??= check.document
    else around.claimed ??= unbelievedPayload(file.value as SignedCertificate) as CertificatePayload | null
  }
  const findings: Finding[] = []
  for (const { name, file } of read) {
    if ('fault' in file) findings.push({ tone: 'bad', about: name, title: 'It cannot be read', words: file.fault })
    else findings.push(...(await CHECKS[file.kind](name, file.value, around)))
  }
  return findings
}

function keysRead(name: string, value: Value): Finding {
  const set = readKeySet(value)
  if ('fault' in set) return { tone: 'bad', about: name, title: 'Not a set of keys to rely on', words: set.fault }
  const names = set.keys.map(({ kid }) => `${shortKey(kid)} …`).join(', ')
  return {
    tone: 'info',
    about: name,
    title: set.keys.length === 1 ? 'A key was read' : `${set.keys.length} keys were read`,
    words: `${names}. Compare with the fingerprint on the paper in the box or on the stream: whoever gives you a record could give you a key as well.`,
  }
}

function signedRead(name: string, value: Value, around: Around): Finding[] {
  const check = around.signed.get(name)
  if (!check) return []
  if (check.outcome === 'holds') {
    const { document, isOldKey, words } = check
    const later = isOldKey ? ' The house has a newer key now; what an earlier one signed still holds.' : ''
    return [
      {
        tone: 'ok',
        about: name,
        title: 'The signature holds',
        words: `${words}${later} ${document.proves} Whether it still stands only the house can say.`,
        link: { href: document.links.home + document.links.certificate, label: `Page of ${document.serial}` },
      },
    ]
  }
  const failed: Finding = {
    tone: check.outcome === 'broken' ? 'bad' : 'doubt',
    about: name,
    title: check.outcome === 'broken' ? 'The signature does not hold' : 'It cannot be checked here',
    words: check.words,
  }
  const claimed = around.trusted && unbelievedPayload(value as SignedCertificate)
  return claimed && around.trusted ? [failed, ...differenceOf(name, around.trusted, claimed as Value)] : [failed]
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

function differenceOf(name: string, trusted: CertificatePayload, value: Value): Finding[] {
  const difference = firstDifference(trusted, value)
  return difference
    ? [{ tone: 'bad', about: name, title: 'It says something else than what was signed', words: `First at: ${difference.words}` }]
    : [{ tone: 'ok', about: name, title: 'It says the same as what was signed', words: `Compared field by field with ${trusted.serial}.` }]
}

async function historyRead(name: string, value: Value, { keys }: Around): Promise<Finding[]> {
  const findings = checkHistory(value).map(
    ({ isSound, words }): Finding => ({ tone: isSound ? 'ok' : 'bad', about: name, title: isSound ? 'Holds' : 'Does not hold', words }),
  )
  const history = historyShape.safeParse(value)
  if (!history.success) return findings
  for (const { text, signature } of signedHeads(history.data)) {
    const signed = new TextEncoder().encode(text)
    const tried = await Promise.all(keys.map((key) => verifyEd25519(key.x, signature, signed)))
    if (!tried.includes(true))
      return [
        ...findings,
        { tone: 'bad', about: name, title: 'Does not hold', words: 'A head of it is signed with none of the keys at hand.' },
      ]
  }
  const holds = findings.every(({ tone }) => tone === 'ok')
  return [
    ...findings,
    {
      tone: 'ok',
      about: name,
      title: 'Holds',
      words: `All ${history.data.heads.length} heads carry a signature of the house.`,
      ...(holds && { history: history.data }),
    },
  ]
}
