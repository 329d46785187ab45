// A checker of lot histories that shares nothing with the house: written from public/history-format.md alone, with
// node:crypto and plain JSON. It throws at the first thing that is not as the document says.
import { createPublicKey, verify } from 'node:crypto'
import { type Anything, canonical, hasExactly, must, sha256 } from './plain'
import { checkOpen, checkOpenings, playAgain } from './verify-prices'

/** The same for the text of a file, which has to be JSON that can be read in one way only. */
export function verifyHistoryText(text: string, keys: readonly string[]): void {
  const value: Anything = JSON.parse(text)
  // Spelt anew, a file with nothing but one name for each member and canonical numbers differs in its spaces and escapes alone.
  const spelt = text.replace(/"(?:[^"\\]|\\.)*"|\s+/g, (token) => (token.startsWith('"') ? JSON.stringify(JSON.parse(token)) : ''))
  must(JSON.stringify(value) === spelt, 'no name stands twice, and numbers are spelt canonically')
  must(!/\d{16}/.test(spelt.replace(/"[^"]*"/g, '')), 'numbers are exact')
  verifyHistory(value, keys)
}

/** Checks a history against the public keys of the house (the `x` of each JWK). */
export function verifyHistory(history: Anything, keys: readonly string[]): void {
  checkShape(history)
  const { leaves } = history
  checkHeads(history, keys)
  checkOrder(history)
  const revealed = leaves.at(-1)
  if (revealed.kind === 'revealed') playAgain(history, checkOpenings(history, revealed))
  else checkOpen(history)
}

const STANDING = ['standingMinor', 'leader', 'why', 'closesAt']
const FIELDS: Record<string, string[]> = {
  opened: ['closesAt', 'terms', 'reserveCommitment'],
  bid: ['sequence', 'alias', 'commitment', ...STANDING],
  extended: ['closesAt', 'by', 'reason'],
  held: ['by', 'reason'],
  resumed: ['by', 'shiftMs', 'closesAt'],
  outage: ['from', 'to', 'shiftMs', 'closesAt'],
  corrected: ['by', 'words'],
  voided: ['alias', 'by', 'reason', ...STANDING],
  withdrawn: ['by', 'reason'],
  closed: ['result', 'hammerMinor', 'leader'],
  revealed: ['openings', 'reserve', 'sealed'],
}

const STAFF = ['maker', 'volunteer', 'treasurer', 'host']

function checkShape(history: Anything): void {
  const names = ['version', 'lot', 'title', 'unit', 'state', 'currency', 'origin', 'leaves', 'heads', 'links']
  must(hasExactly(history, names), 'a history has these names and no other')
  must(history.version === 1, 'version 1')
  must(Number.isSafeInteger(history.lot) && history.lot > 0, 'a lot has a number')
  must(Array.isArray(history.leaves) && Array.isArray(history.heads), 'entries and heads are lists')
  for (const leaf of history.leaves) {
    const two = leaf?.kind === 'voided' && ('asked' in leaf || 'agreed' in leaf) ? ['asked', 'agreed'] : []
    const of = leaf?.kind === 'corrected' && 'certificate' in leaf ? ['certificate'] : []
    must(hasExactly(leaf, ['kind', 'at', ...(FIELDS[leaf?.kind] ?? ['?']), ...two, ...of]), 'an entry carries what its kind says')
    must(!('by' in leaf) || [...STAFF, 'two of the staff', 'programme', 'rule'].includes(leaf.by), 'somebody by what they are, not by name')
    for (const name of two) must(hasExactly(leaf[name], ['by', 'at']) && STAFF.includes(leaf[name].by), 'one of the staff and a time')
  }
  const [first] = history.leaves
  must(first?.kind === 'opened', 'the first entry is the opening')
  must(first.terms.hasReserve === (first.reserveCommitment !== null), 'a reserve is committed to where there is one')
  const { lateBid } = first.terms
  if (lateBid !== undefined) {
    must(hasExactly(lateBid, ['windowMs', 'addsMs']), 'a late bid has a window and what it adds')
    must(
      Object.values(lateBid).every((ms) => Number.isSafeInteger(ms) && Number(ms) > 0),
      'both above zero',
    )
  }
  must(history.title === first.terms.sale.title && history.unit === first.terms.sale.unit, 'title and unit are those of the opening')
  must(history.currency === first.terms.currency, 'the currency is that of the opening')
  must(typeof history.origin === 'string' && history.origin.endsWith(`/lots/${history.lot}`), 'the origin names the lot')
  const links = { lot: `/lots/${history.lot}`, page: `/lots/${history.lot}/history`, keys: '/.well-known/jwks.json' }
  must(canonical(history.links) === canonical(links), 'the links are those of the lot')
}

/** RFC 6962, section 2.1, by its definition: split at the largest power of two below the size. */
function rootOf(hashes: readonly Buffer[]): Buffer {
  if (hashes.length === 1) return hashes[0] as Buffer
  let split = 1
  while (split * 2 < hashes.length) split *= 2
  return sha256(Buffer.of(1), rootOf(hashes.slice(0, split)), rootOf(hashes.slice(split)))
}

function checkHeads({ leaves, heads, origin }: Anything, keys: readonly string[]): void {
  const hashes = leaves.map((leaf: Anything) => sha256(Buffer.of(0), Buffer.from(canonical(leaf))))
  const due = leaves.flatMap((_: Anything, index: number) => (isInOneCommand(leaves[index], leaves[index + 1]) ? [] : [index + 1]))
  must(canonical(heads.map(({ size }: Anything) => size)) === canonical(due), 'there is a head after every command')
  const host = origin.slice(0, origin.indexOf('/'))
  for (const head of heads) {
    must(hasExactly(head, ['size', 'checkpoint']), 'a head has a size and a checkpoint')
    const text = `${origin}\n${head.size}\n${rootOf(hashes.slice(0, head.size)).toString('base64')}\n`
    const start = `${text}\n— ${host} `
    must(head.checkpoint.startsWith(start) && head.checkpoint.endsWith('\n'), `the head at ${head.size} is signed over these entries`)
    const written = head.checkpoint.slice(start.length, -1)
    const bytes = Buffer.from(written, 'base64')
    must(bytes.toString('base64') === written && bytes.length === 68, 'the signature line is canonical base64 of 68 bytes')
    const isSigned = keys.some((x) => {
      const id = sha256(host, Buffer.of(0x0a, 1), Buffer.from(x, 'base64url')).subarray(0, 4)
      const key = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' })
      return id.equals(bytes.subarray(0, 4)) && verify(null, Buffer.from(text), key, bytes.subarray(4))
    })
    must(isSigned, `the head at ${head.size} carries the house's signature`)
  }
}

const isInOneCommand = (leaf: Anything, next: Anything): boolean =>
  (leaf.kind === 'bid' && next?.kind === 'extended' && next.by === 'rule') || next?.kind === 'revealed'

function checkOrder({ leaves, state }: Anything): void {
  let [last, closing, sequence, isHeld, isOver, standing] = ['', '', 0, false, false, 0]
  const voided: string[] = []
  let named = leaves[0].terms.sale.certificate
  for (const [index, leaf] of leaves.entries()) {
    must((leaf.kind === 'opened') === (index === 0), 'one opening, at the beginning')
    must(leaf.at >= last, 'time never runs backwards')
    if (leaf.kind === 'outage') {
      must(!isHeld && leaf.from <= leaf.to && leaf.to === leaf.at, 'an outage is told when it is over, and not on hold')
      must(
        leaf.from < closing && Date.parse(leaf.from) >= Date.parse(last) - 5000,
        'it began before the closing, and nothing was done in it',
      )
    } else if (index > 0 && !isHeld && leaf.kind !== 'closed' && leaf.kind !== 'revealed')
      must(leaf.at < closing, 'from the closing on a lot whose clock runs is closed, and nothing else')
    last = leaf.at
    if (leaf.kind === 'revealed') must(isOver && index === leaves.length - 1 && leaf.at === leaves[index - 1]?.at, 'revealed at the end')
    else must(!isOver, 'nothing but what is revealed comes after the end')
    if (leaf.kind === 'bid') {
      sequence += 1
      must(leaf.sequence === sequence && !isHeld && leaf.at < closing, 'bids are numbered, in time, and not on hold')
      must((leaf.standingMinor ?? 0) >= standing, 'the standing bid falls only at a void')
    }
    if (leaf.asked) {
      must(leaf.by === 'two of the staff' && leaves[0].at <= leaf.asked.at, 'two of the staff, after the opening')
      must(leaf.asked.at <= leaf.agreed.at && leaf.agreed.at === leaf.at, 'one asked, and another agreed when it was voided')
    }
    if (leaf.certificate) {
      const { serial, is, by } = leaf.certificate
      must(hasExactly(leaf.certificate, ['serial', 'is', 'by']) && leaf.by === 'rule', 'what became of a certificate is said by the rule')
      must(serial === named && (is === 'withdrawn' || is === 'superseded'), 'it speaks of the certificate that the lot names')
      must(typeof by === 'string' || (by === null && is === 'withdrawn'), 'what is superseded is so by another')
      named = by ?? serial
    }
    if (leaf.kind === 'bid') must(!voided.includes(leaf.alias), 'a voided alias bids no more')
    if (leaf.kind === 'voided') {
      must(
        leaves.slice(0, index).some((one: Anything) => one.kind === 'bid' && one.alias === leaf.alias),
        'only who has bid is voided',
      )
      voided.push(leaf.alias)
    }
    if (leaf.kind === 'held' || leaf.kind === 'resumed') {
      must(isHeld === (leaf.kind === 'resumed'), 'held, then resumed')
      isHeld = !isHeld
    }
    if (leaf.kind === 'bid' || leaf.kind === 'voided') standing = leaf.standingMinor ?? 0
    if (leaf.kind === 'closed') must(leaf.at === closing, 'it closed at the closing')
    if (leaf.kind === 'closed' || leaf.kind === 'withdrawn') isOver = true
    if (leaf.closesAt !== undefined) {
      must(leaf.closesAt >= closing, 'a closing never moves earlier')
      closing = leaf.closesAt
    }
  }
  must(!isOver || leaves.at(-1).kind === 'revealed', 'the end reveals the maxima')
  must(isOver || state === (isHeld ? 'held' : 'open'), 'the state is what the entries lead to')
}
