#!/usr/bin/env node
// Checks what a house signed with nothing but Node 20 or later, and asks no server:
//   node tagstrip-check.mjs [--key FINGERPRINT]... FILE...
// The files, in any order: signed records of tests (JSON), how they stand (status.json, certificates.json), key sets (jwks.json),
// histories of lots (history.json), kept receipts of bids (receipts.json), packs (ZIP), and records to compare with a signed one
// (record.json). Each says by itself what it is.
// A signature is as good as its key, and whoever gives you a file could give you a key as well. So every fingerprint is printed:
// compare it with the one on paper or from the stream, or name it with --key (its first 16 characters do); then any other key fails.
// Ends with 0 when everything holds, with 1 when something does not, with 2 when there was nothing to check.
import { createHash, createPublicKey, verify } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { inflateRawSync } from 'node:zlib'

class Broken extends Error {}
const fail = (words) => {
  throw new Broken(words)
}
const must = (holds, words) => holds || fail(words)
const sha256 = (...parts) => parts.reduce((hash, part) => hash.update(part), createHash('sha256')).digest()
/** Without its full stop, since one follows. */
const unended = (words) => String(words).replace(/\.$/, '')
/** What a file says must not write lines of this program, nor move what it wrote: a control or formatting character stands as �. */
const plain = (words) =>
  String(words)
    .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/gu, '�')
    .replace(/\s{2,}/g, ' ')
const say = (words) => console.log(plain(words))
const sorted = (names) => [...names].sort().join()
const sameNames = (object, names) => sorted(Object.keys(object ?? {})) === sorted(names)

// ---- JSON: read so that no other program can read something else in it, and written in the one form that is signed

/** What JSON.parse gives, if no name stands twice in one object and every number is spelt canonically and exact. */
function strictJson(name, text) {
  let value
  try {
    value = JSON.parse(text)
  } catch (reason) {
    fail(`${name} cannot be read: ${reason.message}. Was it cut off, or saved in another encoding?`)
  }
  const open = []
  for (const [token, inside, colon] of text.matchAll(/"((?:[^"\\]|\\.)*)"(\s*:)?|[{}[\]]|-?\d[^\s,\]}]*/g)) {
    if (token === '{' || token === '[') open.push(new Set())
    else if (token === '}' || token === ']') open.pop()
    else if (colon) {
      const names = open.at(-1)
      const own = JSON.parse(`"${inside}"`)
      must(!names.has(own) && own !== '__proto__', `${name}: the name “${own}” stands twice in one object, or is one that no house writes`)
      names.add(own)
    } else if (inside === undefined) {
      const number = Number(token)
      const isExact = String(number) === token && (!Number.isInteger(number) || Number.isSafeInteger(number))
      must(isExact, `${name}: the number ${token} is not spelt in the one way that is allowed`)
    }
  }
  const isWhole = (part) =>
    typeof part === 'object' && part !== null ? Object.entries(part).flat().every(isWhole) : !/\p{Surrogate}/u.test(part)
  must(isWhole(value), `${name}: a text in it is half a character`)
  return value
}

/** RFC 8785 as far as JSON.parse gives values: members sorted by UTF-16 code units. */
function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`
  if (value === null || typeof value !== 'object') return JSON.stringify(value)
  const members = Object.keys(value).sort()
  return `{${members.map((name) => `${JSON.stringify(name)}:${canonical(value[name])}`).join(',')}}`
}

/** Only the one canonical spelling of base64 or base64url: a changed last character is found. */
function bytesOf(name, text, encoding = 'base64url') {
  const bytes = Buffer.from(String(text), encoding)
  return bytes.toString(encoding) === text ? bytes : fail(`its ${name} is not canonical ${encoding}, so it was changed or encoded anew`)
}

// ---- Shapes: what each value has to be, so that no text stands where a number belongs; see history-format.md

const text = (value) => typeof value === 'string'
const whole = (value) => Number.isSafeInteger(value) && value >= 0
const above = (value) => whole(value) && value > 0
const hex32 = (value) => text(value) && /^[0-9a-f]{64}$/.test(value)
const instant = (value) => text(value) && /^\d{4}-.*\.\d{3}Z$/.test(value) && new Date(value).toJSON() === value
function oneOf(...words) {
  return (value) => words.includes(value)
}
const orNull = (fits) => (value) => value === null || fits(value)
const listOf = (fits) => (value) => Array.isArray(value) && value.every(fits)
const isObject = (value) => typeof value === 'object' && value !== null && !Array.isArray(value)
/** An object of these names; those that end in ? can be missing, and there is no other. */
function shape(...parts) {
  const names = Object.assign({}, ...parts)
  const fits = new Map(Object.entries(names).map(([name, fit]) => [name.replace('?', ''), fit]))
  const due = Object.keys(names).filter((name) => !name.endsWith('?'))
  return (value) =>
    isObject(value) && due.every((name) => name in value) && Object.entries(value).every(([name, one]) => fits.get(name)?.(one))
}

const staff = oneOf('maker', 'host', 'treasurer', 'volunteer')
const by = (value) => staff(value) || ['two of the staff', 'programme', 'rule'].includes(value)
const reason = oneOf('opening', 'second', 'cap', 'reserve', null)
const standing = { standingMinor: orNull(whole), leader: orNull(text), why: reason, closesAt: instant }
const ofTheTwo = shape({ by: staff, at: instant })
const terms = shape(
  { currency: text, openingMinor: whole, ladder: listOf(shape({ fromMinor: whole, stepMinor: whole })) },
  { hasReserve: oneOf(true, false), 'lateBid?': shape({ windowMs: above, addsMs: above }), sale: isObject },
)
const opening = { sequence: above, alias: text, amountMinor: whole, nonce: hex32 }
const ofCertificate = shape({ serial: text, is: oneOf('superseded', 'withdrawn'), by: orNull(text) })
const ENTRIES = {
  opened: { closesAt: instant, terms, reserveCommitment: orNull(hex32) },
  bid: { sequence: above, alias: text, commitment: hex32, ...standing },
  extended: { closesAt: instant, by, reason: text },
  held: { by, reason: text },
  resumed: { by, shiftMs: whole, closesAt: instant },
  outage: { from: instant, to: instant, shiftMs: whole, closesAt: instant },
  corrected: { by, words: text, 'certificate?': ofCertificate },
  voided: { alias: text, by, reason: text, 'asked?': ofTheTwo, 'agreed?': ofTheTwo, ...standing },
  withdrawn: { by, reason: text },
  closed: { result: oneOf('sold', 'unsold'), hammerMinor: orNull(whole), leader: orNull(text) },
  revealed: { openings: listOf(shape(opening)), reserve: orNull(shape({ amountMinor: whole, nonce: hex32 })), sealed: orNull(above) },
}
const entryShapes = new Map(Object.entries(ENTRIES).map(([kind, names]) => [kind, shape({ kind: text, at: instant }, names)]))
const entry = (value) => isObject(value) && entryShapes.get(value.kind)?.(value) === true
const historyShape = shape(
  { version: oneOf(1), lot: above, title: text, unit: text, state: text, currency: text, origin: text, leaves: listOf(entry) },
  { heads: listOf(shape({ size: above, checkpoint: text })), links: shape({ lot: text, page: text, keys: text }) },
)
const ownOpening = shape({ lot: above }, opening)
const receiptShape = shape({ leaf: entry, index: whole, size: above, path: listOf(hex32), checkpoint: text, opening: ownOpening })
const receiptsShape = shape({ kind: oneOf('tagstrip-receipts'), version: oneOf(1), receipts: listOf(receiptShape) })
const ofStatus = { serial: text, unit: text, issuedAt: instant, document: hex32 }
const filled = (value) => text(value) && value.trim() !== ''
const STATUSES = {
  current: shape(ofStatus, { is: text }),
  superseded: shape(ofStatus, { is: text, at: instant, by: text }),
  withdrawn: shape(ofStatus, { is: text, at: instant, reason: filled, again: listOf(text), by: orNull(text) }),
}
const gone = shape({ serial: text, at: instant, reason: text, again: listOf(text) })
/** As much of a reading as is looked at here. */
const reading = (value) => isObject(value) && instant(value.takenAt ?? '2026-01-01T00:00:00.000Z') && typeof (value.value ?? 0) === 'number'
const recordShape = (value) =>
  ['results', 'earlier', 'reworks', 'instruments'].every((name) => listOf(isObject)(value[name])) &&
  ['faults', 'evidence'].every((name) => listOf(isObject)(value[name] ?? [])) &&
  listOf(text)(value.missing)
const standingShape = shape(
  { kind: oneOf('tagstrip-standing'), version: oneOf(1), covers: oneOf('one', 'all'), saidAt: instant, until: instant },
  { certificates: listOf((one) => isObject(one) && Object.hasOwn(STATUSES, one.is) && STATUSES[one.is](one)) },
  { links: shape({ home: text, list: text, keys: text }) },
)

// ---- Keys: a key's name is its own fingerprint (RFC 7638), so none can stand under another's

function keysOf({ keys }) {
  must(listOf(isObject)(keys), 'it is no set of keys')
  return keys.map(({ kid, kty, crv, x }) => {
    must([kid, kty, crv, x].every(text), 'a key in the set has a part that is no text')
    const own = sha256(canonical({ crv, kty, x })).toString('base64url')
    must(kty === 'OKP' && crv === 'Ed25519' && own === kid, `the key set gives the name ${kid} to another key`)
    return { kid, raw: bytesOf('key', x), key: createPublicKey({ key: { kty, crv, x }, format: 'jwk' }) }
  })
}
const shown = (kid) => `${kid.slice(0, 16).replace(/(.{4})(?=.)/g, '$1 ')} … (${kid})`

/** A flattened JWS (RFC 7515) with Ed25519: its payload and who signed it. */
function openSigned(signed, keys) {
  must(sameNames(signed, ['payload', 'protected', 'signature']), 'it is no signed record of payload, protected and signature alone')
  const read = (name, bytes) => {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
    const value = strictJson(`its ${name}`, text)
    return canonical(value) === text ? value : fail(`its ${name} is not canonical JSON`)
  }
  const head = read('header', bytesOf('header', signed.protected))
  must(head.alg === 'EdDSA' && sameNames(head, ['alg', 'kid']), 'its header does not name EdDSA and a key alone')
  const by =
    keys.find(({ kid }) => kid === head.kid) ?? fail(`its key ${head.kid} is in no key set at hand: signed anew, or the set is older`)
  const signature = bytesOf('signature', signed.signature)
  const payload = bytesOf('payload', signed.payload)
  must(verify(null, Buffer.from(`${signed.protected}.${signed.payload}`), by.key, signature), 'it was changed after it was signed')
  return { document: read('payload', payload), kids: [head.kid] }
}

function checkSigned(signed, { keys }) {
  const { document: record, kids } = openSigned(signed, keys)
  if (record.kind === 'tagstrip-standing') return checkStanding(record, kids)
  if (record.kind !== 'tagstrip-certificate' || record.version !== 1)
    fail(`it is ${record.kind} of version ${record.version}; this program reads tagstrip-certificate of version 1`)
  const { serial, item, results, issuedAt, withdrawn = [] } = record
  const isShaped =
    [serial, item?.tag].every(text) && instant(issuedAt) && listOf(reading)(results) && listOf(gone)(withdrawn) && results.length > 0
  must(isShaped, 'it is no certificate of tests')
  must(isSerial(serial), `${serial} is not a serial that a house gives: its last character does not fit the rest`)
  const bad = results.find(({ verdict }) => !CERTIFIED.includes(verdict))
  must(!bad, `${bad?.check} is a “${bad?.verdict}”, and no house certifies that`)
  must(new Set(results.map(({ check }) => check)).size === results.length, 'it has two readings of one check, and no house certifies that')
  for (const { serial: gone, at, again, reason } of withdrawn) {
    must(gone !== serial && filled(reason), `it says of itself that it was withdrawn, or of ${gone} without a reason`)
    const isAgain = at <= issuedAt && results.every(({ check, takenAt }) => !again.includes(check) || takenAt >= at)
    must(isAgain, `it came after ${gone} was withdrawn, and what that named was not measured again`)
  }
  const document = sha256(Buffer.from(signed.payload, 'base64url')).toString('hex')
  const words = `${serial}, ${item.tag}, ${results.length} readings, signed on ${issuedAt}. ${unended(record.proves)}`
  return { words, kids, record, certificate: { serial, tag: item.tag, issuedAt, document, withdrawn: record.withdrawn, kids } }
}
const CERTIFIED = ['pass', 'pass within doubt']
/** The last character is that of ISO/IEC 7064 MOD 37-2. */
const isSerial = (serial) =>
  /^TS-\d{4}-\d{4,}-[0-9A-Z]$/.test(serial) &&
  [...serial.replaceAll('-', '')].reduce((sum, character) => (sum * 2 + Number.parseInt(character, 36)) % 37, 0) === 1

// ---- How certificates stand, as the house said it on a day: see certificate-format.md

const MINUTE = 60_000
const DAY = 1440 * MINUTE

function checkStanding(said, kids) {
  must(standingShape(said), 'it is not what a house says of its certificates')
  const { covers, saidAt, until, certificates } = said
  must(Date.parse(saidAt) <= Date.now() + 10 * MINUTE, `it was said on ${saidAt}, which is yet to come by this clock`)
  must(until >= saidAt && Date.parse(until) - Date.parse(saidAt) <= DAY, 'it may be relied on for longer than a day, or never')
  const bySerial = new Map(certificates.map((one) => [one.serial, one]))
  must(
    bySerial.size === certificates.length && (covers === 'all' || bySerial.size === 1),
    'it names a serial twice, or another number of them',
  )
  const current = certificates.filter(({ is }) => is === 'current').map(({ unit }) => unit)
  must(new Set(current).size === current.length, 'two certificates of one machine stand in it')
  for (const [index, { serial, issuedAt, at = issuedAt, unit, by: next = null }] of certificates.entries()) {
    must(issuedAt <= at && at <= saidAt, `${serial} was issued or ended at a time that cannot be`)
    const after = bySerial.get(next)
    must(next !== serial && (next === null || covers === 'one' || after), `what follows ${serial} is not in the list`)
    // They stand in the order of issue, so that no circle is possible.
    const isBehind = !after || (certificates.indexOf(after) > index && after.issuedAt >= issuedAt && after.unit === unit)
    must(isBehind, `${next} cannot follow ${serial}`)
  }
  const gone = certificates.filter(({ is }) => is === 'withdrawn').map(({ serial }) => serial)
  const all = `all ${certificates.length} certificates stood; withdrawn: ${gone.join(', ') || 'none'}`
  const words = `how ${covers === 'all' ? all : `${certificates[0].serial} stood: ${certificates[0].is}`}. Said on ${saidAt}`
  return { words, kids, standing: { ...said, kids } }
}
const reliance = (until) =>
  Date.parse(until) >= Date.now() ? `to be relied on until ${until}` : `and not to be relied on since ${until}: ask anew`

/** What the newest answer tells of a certificate at hand. One that was withdrawn does not hold, however old the answer is. */
function tellStanding({ serial, document, issuedAt }, { saidAt, until, certificates }, apart) {
  const one = certificates.find((status) => status.serial === serial)
  if (!one && issuedAt > saidAt) return say(`The list of ${saidAt} is from before ${serial} was issued: fetch a newer one.`)
  must(one, `${serial} is not in the list of ${saidAt}: the house had not issued it`)
  must(one.document === document, `under ${serial} the house issued something else than what is given here`)
  must(one.is !== 'withdrawn', `${serial} was withdrawn on ${one.at}: ${unended(one.reason)}${one.by ? `. After it came ${one.by}` : ''}`)
  if (one.is === 'superseded') return say(`${serial} was superseded on ${one.at} by ${one.by}: look at that one.`)
  say(`${serial} stood on ${saidAt}, ${apart ?? reliance(until)}.`)
}

/** What an answer says of a serial, every later one says too; but a serial can have ended since, once. Gives those that did. */
function endedBetween(earlier, later) {
  return earlier.certificates.flatMap((before) => {
    const { serial, is, by } = before
    const after = later.certificates.find((status) => status.serial === serial)
    if (!after && later.covers === 'one') return []
    const kept = ['unit', 'issuedAt', 'document', ...(after?.is === is ? ['at', 'reason', 'again'] : [])]
    const isSame = after && kept.every((name) => canonical(before[name] ?? null) === canonical(after[name] ?? null))
    const isKept = isSame && (after.is === is ? !by || by === after.by : is === 'current' || after.is === 'withdrawn')
    const told = after ? `told otherwise (${after.is}${after.by ? `, after it ${after.by}` : ''})` : 'not in the list any more'
    must(isKept, `${serial} was ${is} by what was said on ${earlier.saidAt}, and on ${later.saidAt} it is ${told}. Keep both`)
    return after.is === is ? [] : [`${serial} was ${after.is} since`]
  })
}

/** A certificate names those of its machine that were withdrawn before; no answer of a later day knows nothing of that, nor the other way round. */
function compareWithdrawn({ serial, tag, issuedAt, withdrawn }, { saidAt, covers, certificates }) {
  const toldOf = (one) => certificates.find((status) => status.serial === one)
  for (const gone of (withdrawn ?? []).filter(({ at }) => at <= saidAt)) {
    const isKnown = toldOf(gone.serial) ? toldOf(gone.serial).is === 'withdrawn' : covers === 'one'
    must(isKnown, `${serial} says that ${gone.serial} was withdrawn on ${gone.at}, and on ${saidAt} it was told otherwise. Keep both`)
  }
  for (const gone of certificates.filter(({ is, unit, at }) => is === 'withdrawn' && unit === tag && at < issuedAt)) {
    // Certificates of earlier houses say nothing of it; nor did their withdrawals name a check.
    const isSaid = withdrawn?.some((one) => one.serial === gone.serial && one.at === gone.at) ?? gone.again.length === 0
    must(isSaid, `${serial} was signed after ${gone.serial} was withdrawn, and does not say so. Keep both`)
  }
  const { unit = tag, issuedAt: day = issuedAt } = toldOf(serial) ?? {}
  must(unit === tag && day === issuedAt, `${serial} was told on ${saidAt} as of another machine or day. Keep both`)
}

/** Two of one house are two, and the later of one machine goes on naming what was withdrawn before the earlier one. */
function compareCertificates(one, other) {
  must(one.serial !== other.serial || one.document === other.document, `two different certificates ${one.serial} were signed. Keep both`)
  const [earlier, later] = one.issuedAt <= other.issuedAt ? [one, other] : [other, one]
  if (earlier.tag !== later.tag || !later.withdrawn || one.serial === other.serial) return
  const left = earlier.withdrawn?.find(({ serial }) => !later.withdrawn.some((kept) => kept.serial === serial))
  must(!left, `${later.serial} does not say any more that ${left?.serial} was withdrawn, as ${earlier.serial} does. Keep both`)
}

// ---- Histories and receipts: a Merkle tree (RFC 6962) whose heads are signed notes (C2SP checkpoints); see history-format.md

const leafHash = (leaf) => sha256(Buffer.of(0), canonical(leaf))
const nodeHash = (left, right) => sha256(Buffer.of(1), left, right)
function rootOf(hashes) {
  if (hashes.length === 1) return hashes[0]
  let split = 1
  while (split * 2 < hashes.length) split *= 2
  return nodeHash(rootOf(hashes.slice(0, split)), rootOf(hashes.slice(split)))
}

/** A signed head: three lines, an empty one, and a signature by the key that its first four bytes name. */
function openHead(note, keys) {
  const [, text, origin, size, root, host, line] =
    /^(([^\n]+)\n([1-9]\d{0,14})\n([A-Za-z0-9+/]{43}=)\n)\n— ([^\s+]+) ([A-Za-z0-9+/=]+)\n$/.exec(note) ??
    fail('a head is no signed checkpoint')
  const bytes = bytesOf(`head at ${size}`, line, 'base64')
  must(bytes.length === 68 && origin.startsWith(`${host}/lots/`), `the head at ${size} is not one of a lot of ${host}`)
  const by = keys.find(({ raw }) => sha256(host, Buffer.of(0x0a, 1), raw).subarray(0, 4).equals(bytes.subarray(0, 4)))
  must(by, `the head at ${size} entries is by a key that is in no key set at hand`)
  must(verify(null, Buffer.from(text), by.key, bytes.subarray(4)), `the head at ${size} entries was changed after it was signed`)
  return { origin, size: Number(size), root: bytesOf('root', root, 'base64'), kid: by.kid }
}

const commitment = (tag, lot, { alias, sequence, amountMinor, nonce }) =>
  sha256([tag, lot, alias, sequence, amountMinor].map((part) => `${part}\0`).join(''), Buffer.from(nonce, 'hex')).toString('hex')

function checkHistory(history, { keys }) {
  const { leaves, heads, lot, origin } = history
  const odd = Array.isArray(leaves) ? leaves.findIndex((leaf) => !entry(leaf)) + 1 : 0
  must(odd === 0, `entry ${odd} is not shaped as entries are: a name or a value of it is another`)
  must(historyShape(history) && leaves[0]?.kind === 'opened', 'it is no history of a lot of version 1')
  const { currency, sale } = leaves[0].terms
  must(history.title === sale.title && history.unit === sale.unit && history.currency === currency, 'its head is not that of its opening')
  const hashes = leaves.map(leafHash)
  const isOneCommand = (leaf, next) => next?.kind === 'revealed' || (leaf.kind === 'bid' && next?.kind === 'extended' && next.by === 'rule')
  const due = leaves.flatMap((leaf, index) => (isOneCommand(leaf, leaves[index + 1]) ? [] : [index + 1]))
  must(heads.map(({ size }) => size).join() === due.join(), 'a signed head is missing, or the last one does not cover all entries')
  const kids = heads.map(({ size, checkpoint }) => {
    const head = openHead(checkpoint, keys)
    must(head.origin === origin && origin.endsWith(`/lots/${lot}`) && head.size === size, `the head at ${size} is of another lot`)
    must(head.root.equals(rootOf(hashes.slice(0, size))), `the entries do not lead to the head at ${size}: one up to it was changed`)
    return head.kid
  })
  const state = checkOrder(leaves)
  must(history.state === state, `it claims to be ${history.state}, and its entries lead to ${state}`)
  const bids = leaves.filter(({ kind }) => kind === 'bid')
  const revealed = leaves.find(({ kind }) => kind === 'revealed')
  for (const bid of revealed ? bids : []) {
    const opening = revealed.openings.find(({ sequence }) => sequence === bid.sequence)
    const isAsMade = opening ? commitment('tagstrip/maximum/v1', lot, opening) === bid.commitment : bid.sequence === revealed.sealed
    must(isAsMade && (!opening || opening.alias === bid.alias), `bid ${bid.sequence} was not opened as it was made`)
  }
  must(leaves[0].terms.hasReserve === (leaves[0].reserveCommitment !== null), 'its terms say otherwise of a reserve than its opening')
  if (revealed) {
    const { openings, reserve, sealed } = revealed
    const isInOrder = openings.every(({ sequence }, index) => index === 0 || sequence > openings[index - 1].sequence)
    must(isInOrder && openings.length === bids.length - (sealed === null ? 0 : 1), 'every bid is opened once, in order, but the sealed one')
    const { result, hammerMinor = null, leader = null } = leaves.at(-2)
    const own = result === 'sold' ? (bids.findLast(({ alias }) => alias === leader)?.sequence ?? 0) : null
    must(sealed === own, 'another bid stays closed than the last of who won')
    const stood = leaves.findLast(({ why }) => why !== undefined)
    const isAsStood = leader === (stood?.leader ?? null) && hammerMinor === (result === 'sold' ? stood?.standingMinor : null)
    must(!result || isAsStood, 'it closed with another leader or price than it stood at')
    const made = reserve && commitment('tagstrip/reserve/v1', lot, { alias: '', sequence: 0, ...reserve })
    must(made === leaves[0].reserveCommitment, 'the reserve was not opened, or is not the one that was fixed at the opening')
  }
  const words = `the history of ${origin}, ${leaves.length} entries, ${state}. No entry was changed or left out. That each price follows from the bids, the page /check works out; this program does not`
  return { words, kids, roots: { origin, hashes, leaves, kids } }
}

/** What may follow what, and when, whatever the amounts are; and the state that it leads to. */
function checkOrder(leaves) {
  let [closesAt, last, isHeld, isOver, standing, sequence] = ['', '', false, false, 0, 0]
  let certificate = leaves[0].terms.sale.certificate
  const [bidders, voided] = [new Set(), new Set()]
  for (const [index, leaf] of leaves.entries()) {
    const { kind, at, alias, by, from, to, asked, agreed } = leaf
    const keep = (holds, words) => must(holds, `entry ${index + 1} (${kind}) ${words}`)
    keep((kind === 'opened') === (index === 0), 'is an opening after the beginning')
    keep(at >= last, 'is earlier than the one before it')
    const isLast = isOver && at === last && index === leaves.length - 1
    keep(kind === 'revealed' ? isLast : !isOver, 'stands after the end, or opens maxima elsewhere than with it')
    const isDue = index > 0 && !isHeld && at >= closesAt
    const isInTime = kind === 'closed' ? !isHeld && at === closesAt : !isDue || ['outage', 'revealed'].includes(kind)
    keep(isInTime && !(kind === 'bid' && isHeld), 'does not keep to the closing that was announced, or to a hold')
    if (kind === 'bid') {
      keep(leaf.sequence === ++sequence, `comes where bid ${sequence} is missing`)
      keep(!voided.has(alias), 'is by somebody whose bids were voided')
      keep((leaf.standingMinor ?? 0) >= standing, 'lets the standing bid fall')
      bidders.add(alias)
    } else if (kind === 'voided') {
      const isOfTwo = by === 'two of the staff' && (asked ? asked.at >= leaves[0].at && agreed?.at === at && asked.at <= at : !agreed)
      keep(isOfTwo && bidders.has(alias), 'is not by two of the staff, or voids nobody who bid')
      voided.add(alias)
    } else if (kind === 'outage') {
      const isAfterLast = Date.parse(from) + 5000 >= Date.parse(last)
      keep(!isHeld && from <= to && to === at && from < closesAt && isAfterLast, 'is no outage that can have been')
    } else if (kind === 'held' || kind === 'resumed') {
      keep(isHeld === (kind === 'resumed'), 'comes twice')
      isHeld = !isHeld
    } else if (leaf.certificate) {
      const { serial, is, by: next } = leaf.certificate
      keep(
        by === 'rule' && serial === certificate && (next !== null || is === 'withdrawn'),
        'is of a certificate that the lot does not name',
      )
      certificate = next ?? serial
    }
    keep((leaf.closesAt ?? closesAt) >= closesAt, 'moves the closing earlier')
    if (kind === 'bid' || kind === 'voided') standing = leaf.standingMinor ?? 0
    if (kind === 'closed' || kind === 'withdrawn') isOver = true
    ;[closesAt, last] = [leaf.closesAt ?? closesAt, at]
  }
  must(!isOver || leaves.at(-1).kind === 'revealed', 'the lot has ended, and its maxima were not opened with the end')
  return isOver ? (leaves.at(-2).result ?? 'withdrawn') : isHeld ? 'held' : 'open'
}

/** From a bid until its bidder bids again or is voided: who leads pays no more than their maximum, and nobody else leads below it. */
function checkOwn(leaves, { alias, sequence, amountMinor }) {
  for (const leaf of leaves) {
    if (leaf.alias === alias && leaf.sequence !== sequence) return
    const price = leaf.standingMinor ?? leaf.hammerMinor ?? null
    if (price === null || leaf.leader === null) continue
    const fits = leaf.leader !== alias ? price >= amountMinor : leaf.why === 'cap' ? price === amountMinor : price <= amountMinor
    must(fits, `bid ${sequence} allowed ${amountMinor}, and the entry of ${leaf.at} says that ${leaf.leader} leads at ${price}`)
  }
}

/** Receipts of one's own bids: each opens its commitment, and its entry is in the head that came with it; in the history too, where one is given. */
function checkReceipts(file, { keys, histories }) {
  must(receiptsShape(file), 'it is no file of receipts of version 1')
  const { receipts } = file
  if (receipts.length === 0) return { isEmpty: true, words: 'a file of receipts, and no receipt is in it', kids: [] }
  const [lots, bids, shownAs] = [new Set(), new Set(), new Map()]
  /** Of one house, that is of one key or of those that were named. */
  const oneOnly = (place, hash, kid) => {
    const own = named.length > 0 ? place : `${kid} ${place}`
    const isSame = (shownAs.get(own) ?? hash).equals(hash)
    must(isSame, `two receipts show two different histories at the ${place}. Both are signed, and only one can be true. Keep the file`)
    shownAs.set(own, hash)
  }
  const kids = receipts.map(({ leaf, index, size, path, checkpoint, opening }) => {
    const about = `the receipt of bid ${opening.sequence} on lot ${opening.lot}`
    const head = openHead(checkpoint, keys)
    must(head.size === size && head.origin.endsWith(`/lots/${opening.lot}`), `${about} has the head of another lot or size`)
    must(leaf.kind === 'bid' && leaf.alias === opening.alias && leaf.sequence === opening.sequence, `${about} is of another entry`)
    must(commitment('tagstrip/maximum/v1', opening.lot, opening) === leaf.commitment, `${about} does not open what its entry committed to`)
    let [node, last, hash] = [index, size - 1, leafHash(leaf)]
    for (const step of path.map((hex) => Buffer.from(hex, 'hex'))) {
      must(last > 0, `${about} has a path that is too long`)
      const isRight = node % 2 === 1 || node === last
      hash = isRight ? nodeHash(step, hash) : nodeHash(hash, step)
      while (isRight && node % 2 === 0 && node !== 0) [node, last] = [node / 2, Math.floor(last / 2)]
      ;[node, last] = [Math.floor(node / 2), Math.floor(last / 2)]
    }
    must(last === 0 && hash.equals(head.root), `${about} is not in the head that was signed for it`)
    checkOwn([leaf], opening)
    oneOnly(`head at ${size} entries of ${head.origin}`, head.root, head.kid)
    for (const place of [`entry ${index + 1}`, `bid ${leaf.sequence}`]) oneOnly(`${place} of ${head.origin}`, leafHash(leaf), head.kid)
    const ofLot = histories.filter((history) => history.origin === head.origin && mayCompare(history.kids, [head.kid]))
    for (const { hashes, leaves } of named.length === 0 || isNamed(head.kid) ? ofLot : []) {
      const isIn = hashes.length >= size && rootOf(hashes.slice(0, size)).equals(head.root)
      must(isIn, `the history contradicts ${about}: another was shown then`)
      checkOwn(leaves.slice(index), opening)
    }
    bids.add(`${head.origin} ${opening.sequence}`)
    lots.add(`${head.origin}${ofLot.length > 0 ? ' (compared with its history)' : ' (compared with no history)'}`)
    return head.kid
  })
  return {
    words: `${receipts.length} receipts of ${bids.size} bids, of ${[...lots].join(', ')}. The file is not signed: one taken out is not missed`,
    kids,
  }
}

/** Two histories of one lot: one must be the beginning of the other. */
function compareHistories(one, other) {
  const { origin, hashes, kids } = one
  if (origin !== other.origin) return
  if (!mayCompare(kids, other.kids))
    return say(`Not compared: two histories of ${origin}, by different keys. Name those of the house with --key.`)
  const at = hashes.findIndex((hash, index) => other.hashes[index] && !hash.equals(other.hashes[index]))
  must(at < 0, `two histories of ${origin} contradict each other from entry ${at + 1} on. Keep both`)
  say(`Two histories of ${origin}: ${hashes.length === other.hashes.length ? 'the same' : 'one is the beginning of the other'}.`)
}

// ---- Packs: a ZIP with a manifest of digests, and a signature over the manifest

function filesInZip(bytes) {
  const end = bytes.lastIndexOf(Buffer.from('PK\x05\x06'))
  must(end >= 0, 'it is no ZIP archive')
  const files = new Map()
  let at = bytes.readUInt32LE(end + 16)
  for (let count = bytes.readUInt16LE(end + 10); count > 0; count -= 1) {
    must(bytes.readUInt32LE(at) === 0x02014b50, 'its list of contents cannot be read')
    const [method, packed, size] = [bytes.readUInt16LE(at + 10), bytes.readUInt32LE(at + 20), bytes.readUInt32LE(at + 24)]
    const [name, extra, comment, local] = [28, 30, 32].map((place) => bytes.readUInt16LE(at + place)).concat(bytes.readUInt32LE(at + 42))
    const path = bytes.toString('utf8', at + 46, at + 46 + name)
    const start = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28)
    must(!files.has(path) && (method === 0 || method === 8), `${path} stands in it twice, or is packed in a way that no pack uses`)
    const body = bytes.subarray(start, start + packed)
    files.set(path, () => (method === 0 ? body : inflateRawSync(body, { maxOutputLength: size || 1 })))
    at += 46 + name + extra + comment
  }
  return files
}

function checkPack(bytes, { keys }) {
  const files = filesInZip(bytes)
  const read = (path) => (files.get(path) ?? fail(`${path} is missing from the pack`))()
  const manifest = strictJson('manifest.json', read('manifest.json').toString('utf8'))
  must(manifest.format === 'tagstrip-pack' && manifest.version === 2, 'it is no signed pack of version 2')
  const inPack = keysOf(strictJson('its keys', read('keys/public-keys.json').toString('utf8')))
  const { document, kids } = openSigned(strictJson('signature.json', read('signature.json').toString('utf8')), [...keys, ...inPack])
  must(document.kind === 'tagstrip-pack', 'its signature is of something else than a pack')
  must(document.manifestSha256 === sha256(read('manifest.json')).toString('hex'), 'its manifest is not the one that was signed')
  must(listOf(isObject)(manifest.files), 'its manifest names no files')
  for (const { path, bytes: length, sha256: digest } of manifest.files) {
    const body = read(path)
    must(body.length === length && sha256(body).toString('hex') === digest, `${path} was changed after the pack was signed`)
  }
  must(files.size === manifest.files.length + 2, 'it holds a file that its manifest does not name')
  return { words: `the pack of ${manifest.campaign} of ${manifest.madeAt}, all ${manifest.files.length} files as they were signed`, kids }
}

// ---- A record that somebody tells, against the signed one

/** The first path at which `other` says something else; only what both of them have, where `other` is a unit's record.json. */
function difference(signed, other, path = []) {
  if (signed === null || other === null || typeof signed !== 'object' || typeof other !== 'object')
    return Object.is(signed, other) ? null : `${path.join('.')}: signed ${JSON.stringify(signed)}, given ${JSON.stringify(other)}`
  for (const name of new Set([...Object.keys(signed), ...Object.keys(other)])) {
    const step = Array.isArray(signed) ? (signed[name]?.check ?? name) : name
    const found = difference(signed[name] ?? null, other[name] ?? null, [...path, step])
    if (found) return found
  }
  return null
}
/** What belongs to a reading and not to its check. */
const READ = ['shown', 'value', 'doubt', 'verdict', 'instrument', 'takenAt', 'ambient', 'matched', 'lower', 'upper', 'photograph', 'soak']
const only = (object, names) => Object.fromEntries(names.map((name) => [name, object[name]]))

/** The sentence at the head of a record, by its own counts. */
function sentenceOf({ setAside, missing, certificate, reworks }, { checks, passed, within, failed }, newer) {
  const counted = (count, one, many) => (count === 1 ? one : `${count} ${many}`)
  const mended = reworks.length > 0 ? ` It was reworked ${counted(reworks.length, 'once', 'times')} and measured again.` : ''
  if (setAside !== null) return `Set aside: ${setAside}`
  if (failed > 0) return `Not ready: ${counted(failed, 'one check fails', 'checks fail')}, ${passed} of ${checks} pass.${mended}`
  const buts = [
    certificate === null && 'no certificate stands for it now',
    newer > 0 && `${counted(newer, 'one reading was', 'readings were')} corrected or taken again after the certificate was signed`,
    missing.length > 0 && `${counted(missing.length, 'one thing is', 'things are')} missing for another certificate`,
  ].filter(Boolean)
  const begin = newer + missing.length === 0 ? `It passed all ${checks} checks` : `All ${checks} checks have a current pass`
  const doubt = within > 0 ? `, ${within === 1 ? 'one' : within} of them within doubt` : ''
  return `${begin}${doubt}${buts.length > 0 ? `, but ${buts.join(', and ')}` : ''}.${mended}`
}
const PROVES_EARLIER =
  'It proves what was signed, not that it was true; and nothing about the readings that were corrected or taken again since, which this record tells.'
const PROVES_NOTHING = 'No certificate stands for it now, so no signature proves anything of this record as it is.'

/** All that a certificate lets a unit's record say; what that says, without what it tells itself of later; and that, in words. */
function bothTold(signed, record) {
  const { item, results, method, decisionRule, quirks, cautions, issuedAt } = signed
  const ownOf = (check) => results.find((one) => one.check === check)
  /** How a reading was signed, which the record tells as put right or taken again. */
  const isGone = ({ check, shown, verdict, takenAt, whyNotCurrent: why }) => {
    const own = ownOf(check) ?? {}
    const isAsSigned = takenAt === own.takenAt && verdict === own.verdict && [own.shown, `${own.shown} ${own.unit}`].includes(shown)
    return isAsSigned && /^(?:Corrected: .|Taken again\.)/s.test(why)
  }
  const gone = new Map(record.earlier.filter(isGone).map((one) => [one.check, one]))
  const isNewer = ({ check, takenAt }) => takenAt > issuedAt && gone.has(check)
  const newer = record.results.filter(isNewer)
  const since = newer.map(({ check, shown, takenAt }) => {
    const { title, shown: before } = ownOf(check)
    return `${check} ${title}: signed as ${before}, ${shown} since ${takenAt}. ${gone.get(check).whyNotCurrent}`
  })
  const times = record.results.map(({ takenAt }) => takenAt).sort()
  const failed = record.results.filter(({ verdict }) => !CERTIFIED.includes(verdict)).length
  const within = record.results.filter(({ verdict }) => verdict === 'pass within doubt').length
  const counts = { checks: results.length, passed: record.results.length - failed, within, failed }
  const isOfIt = record.certificate === `/certificates/${signed.serial}`
  // One that names another certificate speaks of what is newer than that.
  const isOfAnother = !isOfIt && record.certificate !== null
  const isEarlier = (isOfIt && newer.length > 0) || (isOfAnother && record.proves === PROVES_EARLIER)
  // Earlier houses said there what was signed, which is true where nothing is newer.
  const isOfNone = record.certificate === null && (newer.length > 0 || record.proves === PROVES_NOTHING)
  const told = {
    ...only(signed, ['results', 'reworks', 'earlier', 'instruments', 'atHome']),
    ...{ tag: item.tag, number: item.number, design: { name: item.design, revision: item.revision, quirks, cautions } },
    ...{ ...counts, firstReadingAt: times[0], lastReadingAt: times.at(-1), decision: decisionRule.words, doubt: method.doubt },
    sentence: isOfAnother ? record.sentence : sentenceOf(record, counts, isOfIt ? newer.length : 0),
    proves: isEarlier ? PROVES_EARLIER : isOfNone ? PROVES_NOTHING : signed.proves,
  }
  const isSigned = (one) => newer.length === 0 || signed.instruments.some((other) => canonical(other) === canonical(one))
  const isBefore = (one) => !newer.some(({ check }) => check === one.check) || !(one.takenAt > issuedAt || gone.get(one.check) === one)
  const given = {
    ...only(record, Object.keys(told)),
    results: record.results.map((one) => ({ ...one, ...(isNewer(one) && only(ownOf(one.check), READ)) })),
    ...{ earlier: record.earlier.filter(isBefore), instruments: record.instruments.filter(isSigned) },
  }
  // A house works out the first two anew for each reader; certificates of earlier houses have nothing of the others.
  const leftOut = ['reference', 'takenBy', ...['photograph', 'soak'].filter((name) => !(name in results[0]))]
  const shared = (one) => JSON.parse(JSON.stringify(one, (name, value) => (leftOut.includes(name) ? undefined : value)))
  return [shared(told), shared(given), since]
}

/** Faults and evidence only grow: what was signed of them stands in the record, a fault perhaps closed since, and none from before comes into it. */
function foundDifference(signed, { faults = [], evidence = [] }) {
  const isSame = (one, other) => one.foundAt === other.foundAt && one.check === other.check
  const isKept = (one, twin) =>
    (twin.closedAt === one.closedAt && twin.cause === one.cause) || (one.closedAt === null && (twin.closedAt ?? '') >= signed.issuedAt)
  for (const one of signed.faults ?? []) {
    const twin = faults.find((other) => isSame(one, other))
    if (!twin) return `faults: the one found at ${one.foundAt} was signed and is missing`
    if (!isKept(one, twin)) return `faults: signed ${JSON.stringify(one)}, given ${JSON.stringify(twin)}`
  }
  const isOld = (one) => one.foundAt < signed.issuedAt && !signed.faults.some((other) => isSame(one, other))
  const more = signed.faults && faults.find(isOld)
  if (more) return `faults: the one found at ${more.foundAt} was not signed`
  const gone = (signed.evidence ?? []).find((one) => !evidence.some((other) => canonical(one) === canonical(other)))
  return gone ? `evidence: what was signed as ${gone.sha256} is missing or told otherwise` : null
}

/** The signed record that it names, or else the newest of its machine. */
function compareRecord(other, { records }) {
  const serial = other.serial ?? String(other.certificate ?? '').replace('/certificates/', '')
  const tag = other.item?.tag ?? other.tag
  const ofMachine = records.filter(({ item }) => item.tag === tag).sort((a, b) => (a.issuedAt < b.issuedAt ? -1 : 1))
  const signed = records.find((one) => one.serial === serial) ?? ofMachine.at(-1)
  must(signed, 'a record without the signed one of its machine beside it proves nothing')
  const isRecord = other.kind !== 'tagstrip-certificate'
  must(!isRecord || recordShape(other), 'the record to compare is not of the form that a house gives')
  const [told, given, since] = isRecord ? bothTold(signed, other) : [signed, other, []]
  const found = difference(told, given) ?? (isRecord ? foundDifference(signed, other) : null)
  must(!found, `the record to compare differs, first at ${found}`)
  const isOfAnother = isRecord && ![null, `/certificates/${signed.serial}`].includes(other.certificate)
  if (isOfAnother)
    return {
      words: `the record to compare names another certificate than ${signed.serial}, which alone is here: its sentence cannot be checked, only the readings. Add the one that it names`,
      kids: [],
      isInDoubt: true,
    }
  const about = `was changed after ${signed.serial} was signed, and says so. ${since.join(' ')} All else is as it was signed`
  const words = since.length > 0 ? `${about}; the signature proves nothing of what came later` : `says the same as ${signed.serial}`
  return { words: `the record to compare ${words}`, kids: [] }
}

// ---- What was given

function kindOf(value) {
  if (Buffer.isBuffer(value)) return 'pack'
  if (Array.isArray(value?.keys)) return 'keys'
  if (Array.isArray(value?.receipts)) return 'receipts'
  if (value?.leaves && value?.heads) return 'history'
  const isRecord = ['tagstrip-record', 'tagstrip-certificate'].includes(value?.kind) || (value?.results && !value.payload)
  return isRecord ? 'record' : 'signed'
}
const CHECKS = { signed: checkSigned, history: checkHistory, pack: checkPack, receipts: checkReceipts, record: compareRecord }
const ORDER = Object.keys(CHECKS)

const given = process.argv.slice(2)
const named = given.flatMap((word, index) => (given[index - 1] === '--key' ? [word.replace(/[\s…]/g, '')] : []))
const names = given.filter((word, index) => word !== '--key' && given[index - 1] !== '--key')
const isNamed = (kid) => named.some((start) => start.length >= 16 && kid.startsWith(start))
/** What a stranger signed accuses nobody: two are held against each other only by keys that were named, or by one key. */
const mayCompare = (kids, others) => named.length > 0 || kids.some((kid) => others.includes(kid))

/** What a certificate says of an earlier one that was withdrawn. */
const goneBy = ({ withdrawn }, gone) => withdrawn?.find(({ serial }) => serial === gone)
/** That a newer file by another key speaks of one of the serials: after a change of keys it may be the one that counts. */
function notCompared({ kids }, serials, since) {
  const speaks = (one) => serials.includes(one.serial)
  const isApart = (other) => !mayCompare(other.kids, kids)
  const isNewer =
    around.standings.some((other) => isApart(other) && other.saidAt >= since && other.certificates.some(speaks)) ||
    around.certificates.some((other) => isApart(other) && other.issuedAt >= since && other.withdrawn?.some(speaks))
  return isNewer
    ? 'but a newer file here, by another key, speaks of it too: not compared. If both keys are of the house, name both with --key'
    : null
}

const around = { keys: [], histories: [], records: [], certificates: [], standings: [] }
let holding = 0
const toCheck = []
const attempt = (name, work) => {
  try {
    return work()
  } catch (reason) {
    console.error(plain(`Does not hold: ${name}: ${reason.message}.`))
    process.exitCode = 1
  }
}
for (const name of names)
  attempt(name, () => {
    const bytes = readFileSync(name)
    const value = bytes.subarray(0, 2).equals(Buffer.from('PK')) ? bytes : strictJson(name, bytes.toString('utf8'))
    if (kindOf(value) === 'keys') around.keys.push(...keysOf(value))
    else toCheck.push({ name, value, kind: kindOf(value) })
  })
if (toCheck.length === 0 && process.exitCode !== 1)
  console.error(
    'node tagstrip-check.mjs [--key fingerprint] <signed record, status, history, receipts or pack> <jwks.json> [record to compare]',
  )
for (const { name, value, kind } of toCheck.sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind)))
  attempt(name, () => {
    const { words, kids, record, certificate, standing, roots, isEmpty, isInDoubt } = CHECKS[kind](value, around)
    if (isEmpty) return say(`Nothing to check: ${words}.`)
    const signers = [...new Set(kids)]
    const stranger = named.length > 0 && signers.find((kid) => !isNamed(kid))
    must(!stranger, `it is whole, but by a key that you did not name: ${stranger && shown(stranger)}`)
    holding += 1
    if (record) around.records.push(record)
    if (certificate) around.certificates.push({ name, ...certificate })
    if (standing) around.standings.push(standing)
    if (roots) around.histories.push(roots)
    say(`${isInDoubt ? 'In doubt' : 'Holds'}: ${words}.`)
    const whose = named.length > 0 ? ', which you named' : ': compare it with the paper in the box or the stream'
    for (const kid of signers) console.log(`  ${plain(`Signed by ${shown(kid)}${whose}.`)}`)
  })
for (const [index, one] of around.histories.entries())
  for (const other of around.histories.slice(index + 1)) attempt('the histories', () => compareHistories(one, other))
around.standings.sort((one, other) => (one.saidAt < other.saidAt ? -1 : 1))
for (const [index, { name, ...certificate }] of around.certificates.entries()) {
  for (const other of around.certificates.slice(index + 1).filter(({ kids }) => mayCompare(kids, certificate.kids)))
    attempt('the certificates', () => compareCertificates(certificate, other))
  const ofHouse = around.standings.filter(({ kids }) => mayCompare(kids, certificate.kids))
  const told = ofHouse.findLast(({ covers, certificates }) => covers === 'all' || certificates[0].serial === certificate.serial)
  const next = around.certificates.find((other) => mayCompare(other.kids, certificate.kids) && goneBy(other, certificate.serial))
  const apart = next ? 'and stands no longer' : notCompared(certificate, [certificate.serial], told?.saidAt ?? certificate.issuedAt)
  if (told) attempt(name, () => tellStanding(certificate, told, apart))
  else if (!next)
    say(
      `Whether ${certificate.serial} still stands is in no file here${apart ? ` by its own key, ${apart}` : ': add its status.json, or certificates.json'}.`,
    )
  if (next && told?.certificates.find(({ serial }) => serial === certificate.serial)?.is !== 'withdrawn')
    attempt(name, () => {
      const { at, reason } = goneBy(next, certificate.serial)
      fail(`${certificate.serial} was withdrawn on ${at}: ${unended(reason)}. So says ${next.serial}`)
    })
  for (const said of ofHouse) attempt(name, () => compareWithdrawn(certificate, said))
}
for (const [index, one] of around.standings.entries()) {
  const later = around.standings.slice(index + 1).filter(({ kids }) => mayCompare(kids, one.kids))
  const ended = later.flatMap((other) => attempt('what was said of certificates', () => endedBetween(one, other)) ?? [])
  const current = one.certificates.flatMap(({ is, serial }) => (is === 'current' ? [serial] : []))
  for (const other of around.certificates.filter(({ kids }) => mayCompare(kids, one.kids)))
    ended.push(...current.flatMap((serial) => (goneBy(other, serial) ? [`${serial} was withdrawn, as ${other.serial} says`] : [])))
  const apart = notCompared(one, current, one.saidAt)
  say(`What was said on ${one.saidAt}: ${ended.length > 0 ? `overtaken, ${ended.at(-1)}` : (apart ?? reliance(one.until))}.`)
}
if (holding === 0) process.exitCode ||= 2
