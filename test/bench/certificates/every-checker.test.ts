import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { checkChosen } from '#app/(public)/check/check-chosen.ts'
import type { CertificatePayload } from '#bench/certificates/certificates.contract'
import { draftCertificate } from '#bench/certificates/certificates.rules'
import { partsToSign } from '#bench/certificates/jws.rules'
import { readKeySet, thumbprintOf } from '#bench/certificates/key-set.rules'
import { DAY, HOUR, toIso } from '#kernel/instant'
import { aKey, signedWith } from '#test/make/signing-key'
import { anIssuer, aUnit } from '#test/make/unit-facts'
import { certificateVerdictsInPython, missingForPython } from '#test/verifier/in-python'
import { standsAs, verifyAnswers, verifyCertificate, verifyStanding, verifyTwo, verifyWithdrawn } from '#test/verifier/verify-certificate'

// One set of files, as somebody chooses them, before the checking page, the program for Node, and two checkers that were written
// from the document alone, one of them in Python. They go by the clock of whoever checks, so what is said here is said around now.
const NOW = Date.now()
const at = (hours: number) => toIso(NOW + hours * HOUR)
const xOf = (key: ReturnType<typeof aKey>) => String((key.jwks().keys[0] as { x?: string }).x)
const house = aKey(thumbprintOf(xOf(aKey('any'))))
const signed = (document: object) => signedWith(house, partsToSign(document, house.kid))
type Signed = ReturnType<typeof signed>

const [A, B, C] = ['TS-2027-0147-M', 'TS-2027-0148-K', 'TS-2027-0149-I']
function certificate(serial: string, days: number): CertificatePayload {
  const drafted = draftCertificate({
    unit: aUnit(),
    issuer: anIssuer,
    serial,
    issuedAt: NOW - days * DAY,
    home: 'https://longbench.example',
  })
  return { ...drafted, results: drafted.results.map((one) => ({ ...one, takenAt: at(-500) })) }
}
const [a, b] = [certificate(A, 9), certificate(B, 3)]
const digestOf = ({ payload }: Signed) => createHash('sha256').update(Buffer.from(payload, 'base64url')).digest('hex')
const of = (document: CertificatePayload, more: object = { is: 'current' }) => ({
  ...{ serial: document.serial, unit: document.item.tag, issuedAt: document.issuedAt, document: digestOf(signed(document)) },
  ...more,
})
const superseded = { is: 'superseded', at: b.issuedAt, by: B }
const withdrawn = { is: 'withdrawn', at: at(-48), reason: 'A lead came loose.', again: ['B6'], by: null }
const said = (hoursAgo: number, certificates: object[], more: object = {}) =>
  signed({
    ...{ kind: 'tagstrip-standing', version: 1, covers: certificates.length === 1 ? 'one' : 'all' },
    ...{ saidAt: at(-hoursAgo), until: at(24 - hoursAgo), certificates },
    ...{ links: { home: 'https://longbench.example', list: '/certificates.json', keys: '/.well-known/jwks.json' } },
    ...more,
  })

const folder = mkdtempSync(join(tmpdir(), 'tagstrip-every-'))
afterAll(() => rmSync(folder, { recursive: true }))
const keep = (name: string, content: object) => {
  writeFileSync(join(folder, name), JSON.stringify(content))
  return join(folder, name)
}
const program = join(import.meta.dirname, '..', '..', '..', 'public', 'tagstrip-check.mjs')

async function foundByPage(files: readonly Signed[]) {
  const read = readKeySet(house.jwks())
  if ('fault' in read) throw new Error(read.fault)
  const chosen = files.map((file, index) => ({ name: `${index}.json`, bytes: new TextEncoder().encode(JSON.stringify(file)) }))
  return (await checkChosen(chosen, read.keys)).flatMap(({ tone, title, words }) => (tone === 'bad' ? [`${title} ${words}`] : []))
}
function foundByProgram(files: readonly Signed[]) {
  const names = files.map((file, index) => keep(`${index}.json`, file))
  const { status, stderr } = spawnSync(process.execPath, [program, keep('jwks.json', house.jwks()), ...names], { encoding: 'utf8' })
  if ((status === 0) !== (stderr === '')) throw new Error(`it ends with ${status} and says ${stderr}`)
  return stderr.split('\n').filter(Boolean)
}
function foundByDocument(files: readonly Signed[]) {
  const isAnswer = (file: Signed) => JSON.parse(Buffer.from(file.payload, 'base64url').toString()).kind === 'tagstrip-standing'
  try {
    const answers = files
      .filter(isAnswer)
      .map((file) => verifyStanding(file, house.jwks(), NOW))
      .sort((one, other) => (one.saidAt < other.saidAt ? -1 : 1))
    for (const [index, earlier] of answers.entries()) for (const later of answers.slice(index + 1)) verifyAnswers(earlier, later)
    const papers = files.filter((one) => !isAnswer(one)).map((file) => ({ file, document: verifyCertificate(file, house.jwks()) }))
    for (const [index, one] of papers.entries()) for (const { document } of papers.slice(index + 1)) verifyTwo(one.document, document)
    for (const { file, document } of papers) {
      for (const answer of answers) verifyWithdrawn(document, answer)
      const own = answers.findLast(({ covers, certificates }) => covers === 'all' || certificates[0].serial === document.serial)
      const stands = own ? standsAs(own, file, NOW) : 'current'
      const isNewer = own && stands === 'unknown' && document.issuedAt > own.saidAt
      if (!isNewer && !['current', 'old', 'superseded'].includes(stands)) throw new Error(stands)
    }
    return []
  } catch (reason) {
    return [String(reason)]
  }
}
/** All of them in one process, which is most of the time. */
const inPython = new Map<Signed[], string>()
beforeAll(() => {
  if (missingForPython.length > 0) return
  const all = [...HOLDING, ...REFUSED].map(([, files]) => files)
  for (const [index, verdict] of certificateVerdictsInPython(all, xOf(house), NOW).entries()) inPython.set(all[index] ?? [], verdict)
}, 60_000)

const foundAgainst = async (files: Signed[]) => ({
  page: await foundByPage(files),
  program: foundByProgram(files),
  document: foundByDocument(files),
  python: [inPython.get(files) ?? 'holds'].filter((verdict) => verdict !== 'holds'),
})

const withVerdict = (verdict: string) => signed({ ...a, results: a.results.map((one, index) => (index === 3 ? { ...one, verdict } : one)) })
const withReading = (change: object) =>
  signed({ ...a, results: a.results.map((one, index) => (index === 3 ? { ...one, ...change } : one)) })
/** Issued after A was withdrawn, when what that named had been measured again. */
const gone = { serial: A, at: at(-84), reason: 'A lead came loose.', again: ['B6'] }
const results = b.results.map((one) => (one.check === 'B6' ? { ...one, takenAt: at(-80) } : one))
const after = { ...b, results, withdrawn: [gone] }
const { serial: _serial, ...ofGone } = gone
const withdrawnBefore = { is: 'withdrawn', ...ofGone, by: B }
const c = { ...after, serial: C, issuedAt: at(-24) }
/** Signed at the end of what an answer may be relied on. */
const laterGone = { ...after, issuedAt: at(-0.1), withdrawn: [{ ...gone, at: at(-0.2), again: [] }] }
const listed = [of(a, superseded), of(b)]

const HOLDING: [string, Signed[]][] = [
  ['a certificate', [signed(a)]],
  ['a certificate that stands', [signed(a), said(1, [of(a)])]],
  ['one that stands, by the newer of two answers', [said(2, [of(a)]), signed(a), said(1, [of(a)])]],
  ['one that was superseded between two answers', [said(2, [of(a)]), said(1, [of(a, superseded)])]],
  ['one that was issued after the list', [signed(b), said(100, [of(a)], { covers: 'all' })]],
  ['a list of both', [said(100, [of(a)], { covers: 'all' }), said(1, listed)]],
  ['one that names an earlier one, beside an answer from before that was withdrawn', [signed(after), said(90, [of(a)])]],
  ['one that names an earlier one, with that', [signed(after), said(1, [of(a, withdrawnBefore), of(after)])]],
  ['two, of which the later names it too', [signed(after), signed(c)]],
  ['one twice', [signed(after), signed(after)]],
  [
    'one of an earlier house, which did not say what was withdrawn',
    [signed({ ...b, withdrawn: undefined }), said(1, [of(a, { ...withdrawnBefore, again: [] }), of({ ...b, withdrawn: undefined })])],
  ],
]

const REFUSED: [string, Signed[]][] = [
  ['a certificate with a reading that fails', [withVerdict('fail')]],
  ['a certificate with a reading that fails within doubt', [withVerdict('fail within doubt')]],
  ['a certificate without a reading', [signed({ ...a, results: [] })]],
  ['a serial with another last character', [signed({ ...a, serial: 'TS-2027-0147-N' })]],
  ['a serial with two figures swapped', [signed({ ...a, serial: 'TS-2027-0174-M' })]],
  ['one that is in no list of its house', [signed(a), said(1, [of(b)], { covers: 'all' })]],
  ['a certificate that was withdrawn', [signed(a), said(1, [of(a, withdrawn)])]],
  ['one that stands by the older answer alone', [signed(a), said(1, [of(a, withdrawn)]), said(50, [of(a)])]],
  ['a withdrawal that is taken back', [said(2, [of(a, withdrawn)]), said(1, [of(a)])]],
  ['a withdrawal that becomes a succession', [said(2, [of(a, withdrawn)]), said(1, [of(a, superseded)])]],
  ['a withdrawal for another reason', [said(2, [of(a, withdrawn)]), said(1, [of(a, { ...withdrawn, reason: 'It was repainted.' })])]],
  ['a withdrawal that names fewer checks', [said(2, [of(a, withdrawn)]), said(1, [of(a, { ...withdrawn, again: [] })])]],
  ['a withdrawal at another time', [said(2, [of(a, withdrawn)]), said(1, [of(a, { ...withdrawn, at: at(-40) })])]],
  ['a withdrawal that another follows', [said(2, [of(a, { ...withdrawn, by: B })]), said(1, [of(a, { ...withdrawn, by: C })])]],
  ['one that was superseded and is current again', [said(2, [of(a, superseded)]), said(1, [of(a)])]],
  ['one that was superseded by another', [said(2, [of(a, superseded)]), said(1, [of(a, { ...superseded, by: C })])]],
  ['another document under a serial', [said(2, [of(a)]), said(1, [of({ ...a, serial: A, end: 'The end.' })])]],
  ['another machine under a serial', [said(2, [of(a)]), said(1, [{ ...of(a), unit: 'TERN-09' }])]],
  ['a serial that leaves the list', [said(2, [of(a)]), said(1, [of(b)], { covers: 'all' })]],
  ['two documents under one serial', [signed(a), signed({ ...a, end: 'The end.' })]],
  ['one that came after a withdrawal, and does not say so', [signed(b), said(1, [of(a, withdrawnBefore), of(b)])]],
  [
    'one that claims to be of an earlier house, after a withdrawal',
    [signed({ ...b, withdrawn: undefined }), said(1, [of(a, withdrawnBefore), of({ ...b, withdrawn: undefined })])],
  ],
  ['one that says another time of it', [signed({ ...after, withdrawn: [{ ...gone, at: at(-85) }] }), said(1, [of(a, withdrawnBefore)])]],
  ['a later one that does not name it any more', [signed(after), signed({ ...c, withdrawn: [] })]],
  ['one for which nothing was measured again', [signed({ ...b, withdrawn: [gone] })]],
  ['one that was signed before what it says was withdrawn', [signed({ ...after, withdrawn: [{ ...gone, at: at(-2), again: [] }] })]],
  ['one that is told as of another machine', [signed(a), said(1, [{ ...of(a), unit: 'TERN-09' }])]],
  ['one that is told as of another day', [signed(a), said(1, [{ ...of(a), issuedAt: at(-300) }])]],
  ['a list that knows nothing of a withdrawal', [signed(after), said(1, [of(a, superseded), of(after)])]],
  ['an answer that knows nothing of a withdrawal', [signed(after), said(1, [of(a)])]],
  ['two that follow each other', [said(1, [of(a, superseded), of({ ...b, issuedAt: a.issuedAt }, { ...superseded, by: A })])]],
  ['a list in which what follows stands before', [said(1, [of({ ...b, issuedAt: a.issuedAt }), of(a, superseded)])]],
  ['one that another names as withdrawn, beside an answer from before that', [signed(a), said(1, [of(a)]), signed(laterGone)]],
  ['one that another names as withdrawn, beside no answer', [signed(a), signed(after)]],
  ['one check twice', [signed({ ...a, results: [...a.results, ...a.results.slice(0, 1)] })]],
  ['one that says of itself that it was withdrawn', [signed({ ...after, withdrawn: [{ ...gone, serial: B }] })]],
  ['one that names a withdrawal without a reason', [signed({ ...after, withdrawn: [{ ...gone, reason: '  ' }] })]],
  ['a text where the checks to be measured again are listed', [signed({ ...after, withdrawn: [{ ...gone, again: 'B6' }] })]],
  ['a reading taken at no instant', [withReading({ takenAt: 'soon' })]],
  ['a reading with a text as its number', [withReading({ value: 'x' })]],
  ['a name that no house says', [said(1, [of(a)], { blessed: true })]],
]

describe('every checker', () => {
  it.each(HOLDING)('lets %s hold', async (_, files) => {
    expect(await foundAgainst(files)).toEqual({ page: [], program: [], document: [], python: [] })
  })

  it.each(REFUSED)('refuses %s', async (_, files) => {
    const found = await foundAgainst(files)
    const silent = Object.entries(found).filter(([, words]) => words.length === 0)
    expect(silent.map(([checker]) => checker)).toEqual(missingForPython.length > 0 ? ['python'] : [])
    expect(found.page.join(' ')).not.toContain('It was changed')
  })
})
