import { spawnSync } from 'node:child_process'
import { createHash, sign } from 'node:crypto'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import canonicalize from 'canonicalize'
import { afterAll, describe, expect, it, test } from 'vitest'
import { thumbprintOf } from '#bench/certificates/key-set.rules'
import { DAY, toIso } from '#kernel/instant'
import { makeKey, makeLot, makeTerms, pounds } from '#test/make/lot-history'

// The program goes by the clock of whoever runs it, so what is said here is said around now.
const program = join(import.meta.dirname, '..', '..', '..', 'public', 'tagstrip-check.mjs')
const folder = mkdtempSync(join(tmpdir(), 'tagstrip-standing-'))
afterAll(() => rmSync(folder, { recursive: true }))

const NOW = Date.now()
const at = (days: number) => toIso(NOW + days * DAY)
const [house, stranger] = [makeKey(), makeKey()]
const xOf = ({ raw }: typeof house) => Buffer.from(raw).toString('base64url')
const kidOf = (key: typeof house) => thumbprintOf(xOf(key))
const keep = (name: string, content: object): string => {
  const file = join(folder, name)
  writeFileSync(file, JSON.stringify(content))
  return file
}
const jwks = keep('jwks.json', { keys: [house, stranger].map((key) => ({ kty: 'OKP', crv: 'Ed25519', x: xOf(key), kid: kidOf(key) })) })
const run = (...words: string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, jwks, ...words], { encoding: 'utf8' })
  return { status, words: stdout + stderr }
}

const encoded = (value: unknown) => Buffer.from(canonicalize(value) ?? '').toString('base64url')
function signed(document: unknown, key = house) {
  const [payload, head] = [encoded(document), encoded({ alg: 'EdDSA', kid: kidOf(key) })]
  return { payload, protected: head, signature: sign(null, Buffer.from(`${head}.${payload}`), key.privateKey).toString('base64url') }
}
const certificate = (serial: string) =>
  signed({
    kind: 'tagstrip-certificate',
    version: 1,
    serial,
    item: { tag: 'TERN-03' },
    results: [{ check: 'B6', verdict: 'pass' }],
    issuedAt: at(-9),
    proves: 'It is whole.',
  })
const digestOf = ({ payload }: ReturnType<typeof signed>) => createHash('sha256').update(Buffer.from(payload, 'base64url')).digest('hex')

const [A, B] = ['TS-2027-0001-L', 'TS-2027-0002-J']
const own = certificate(A)
const entry = (more: object = {}) => ({ serial: A, unit: 'TERN-03', issuedAt: at(-9), document: digestOf(own), is: 'current', ...more })
const next = { serial: B, unit: 'TERN-03', issuedAt: at(-3), document: 'ab'.repeat(32), is: 'current' }
const superseded = { is: 'superseded', at: at(-3), by: B }
const withdrawn = { is: 'withdrawn', at: at(-3), reason: 'A lead came loose.', again: ['B6'], by: null }
const said = (certificates: object[], more: object = {}) => ({
  kind: 'tagstrip-standing',
  version: 1,
  covers: certificates.length === 1 ? 'one' : 'all',
  saidAt: at(-0.1),
  until: at(0.9),
  certificates,
  links: { home: 'https://bench.example', list: '/certificates.json', keys: '/.well-known/jwks.json' },
  ...more,
})
const status = (document: object, key = house) => keep(`status-${Math.random()}.json`, signed(document, key))
const record = keep('record.json', own)

describe('the program for Node, of how a certificate stands', () => {
  it.each<[string, object, number, RegExp]>([
    ['of one that stands', said([entry()]), 0, /TS-2027-0001-L stood on .*, to be relied on until/],
    ['of one that stands, in the list', said([entry()], { covers: 'all' }), 0, /how all 1 certificates stood.*stood on/s],
    ['that is older than a day', said([entry()], { saidAt: at(-3), until: at(-2) }), 0, /not to be relied on since .*: ask anew/],
    ['of one that was superseded', said([entry(superseded), next]), 0, /was superseded on .* by TS-2027-0002-J: look at that one/],
    ['of one that was withdrawn', said([entry(withdrawn)]), 1, /TS-2027-0001-L was withdrawn on .*: A lead came loose/],
    ['of one that was withdrawn, in the list', said([entry({ ...withdrawn, by: B }), next]), 1, /After it came TS-2027-0002-J/],
    ['of another document', said([entry({ document: 'cd'.repeat(32) })]), 1, /the house issued something else/],
    ['in a list without it', said([next], { covers: 'all' }), 1, /is not in the list of/],
    ['of another certificate alone', said([next]), 0, /Whether TS-2027-0001-L still stands is in no file here/],
  ])('tells by an answer %s', (_, document, code, words) => {
    const told = run(record, status(document))
    expect(told.words).not.toContain('..')
    expect(told.words).toMatch(words)
    expect(told.status).toBe(code)
  })

  it.each<[string, object]>([
    ['said in times to come', said([entry()], { saidAt: at(0.5), until: at(1) })],
    ['to be relied on for longer than a day', said([entry()], { until: at(2) })],
    ['to be relied on until before it was said', said([entry()], { until: at(-1) })],
    ['of one that names two', said([entry(superseded), next], { covers: 'one' })],
    ['with a serial twice', said([entry(superseded), entry(superseded)])],
    ['with two that stand of one machine', said([entry(), next])],
    ['without a reason', said([entry({ ...withdrawn, reason: ' ' })])],
    ['with a successor that is not in the list', said([entry(superseded)], { covers: 'all' })],
    ['with a successor of another machine', said([entry(superseded), { ...next, unit: 'TERN-04' }])],
    ['that is its own successor', said([entry({ ...superseded, by: A })])],
    ['with an end before its beginning', said([entry({ ...withdrawn, at: at(-20) })])],
    ['with a text where a number belongs', said([entry()], { version: '1' })],
    ['with a list where a text belongs', said([entry({ is: ['current'] })])],
    ['with a name too many', said([entry({ note: 'x' })])],
    ['with a day that there is not', said([entry({ issuedAt: '2026-02-30T12:00:00.000Z' })])],
  ])('refuses an answer %s', (_, document) => {
    const told = run(status(document))
    expect(told.words).toContain('Does not hold')
    expect(told.status).toBe(1)
  })

  it('finds a withdrawal that a later answer takes back', () => {
    const [before, after] = [said([entry(withdrawn)], { saidAt: at(-2), until: at(-1) }), said([entry()])]
    expect(run(status(before), status(after))).toMatchObject({
      status: 1,
      words: expect.stringContaining('it is told otherwise (current)'),
    })
    expect(run(status(after), status({ ...after, saidAt: at(-0.05) })).status).toBe(0)
  })

  it('goes by the newest answer, in whichever order they are given, and says that the older one is overtaken', () => {
    const [old, newer] = [said([entry()], { saidAt: at(-0.2), until: at(0.8) }), said([entry(superseded), next])]
    for (const files of [
      [status(old), status(newer)],
      [status(newer), status(old)],
    ]) {
      const told = run(record, ...files)
      expect(told.words).toMatch(new RegExp(`What was said on ${old.saidAt}: overtaken, ${A} was superseded since`))
      expect(told.words).toContain(`${A} was superseded on`)
      expect(told.words).not.toContain(`${A} stood on`)
      expect(told.status).toBe(0)
    }
  })

  it('does not let anybody rely on an answer beside a newer one by another key, which it does not compare', () => {
    const old = status(said([entry()], { saidAt: at(-0.2), until: at(0.8) }))
    for (const newer of [said([entry(withdrawn)]), said([entry({ ...withdrawn, by: B }), next])]) {
      const told = run(record, old, status(newer, stranger))
      expect(told.words).toMatch(/TS-2027-0001-L stood on .*, but a newer file here, by another key, speaks of it too: not compared.*--key/)
      expect(told.words.match(/to be relied on until/g) ?? []).toHaveLength(1)
      expect(run(record, status(newer, stranger)).words).toContain('in no file here by its own key, but a newer file')
      expect(run(record, old, status(newer, stranger), '--key', kidOf(house), '--key', kidOf(stranger))).toMatchObject({ status: 1 })
    }
  })

  it('lets no file write lines or move the screen', () => {
    const forged = signed({
      ...JSON.parse(Buffer.from(own.payload, 'base64url').toString()),
      proves: 'Whole.\n  Signed by AAAA\u001b[8m\u202e\u0085',
    })
    const { words } = run(keep('forged.json', forged))
    expect(words).toContain('Whole.\u{fffd} Signed by AAAA\u{fffd}[8m')
    expect(words.split('\n').filter((line) => line.startsWith('  Signed by'))).toHaveLength(1)
    expect(words.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\p{Bidi_Control}]/u)
    const kind = run(keep('kind.json', signed({ kind: 'x\n  Signed by me', version: 1 }))).words
    expect(kind.trim().split('\n')).toHaveLength(1)
  })

  it('lets a stranger’s answer accuse nobody, and none but a named key count', () => {
    const theirs = status(said([entry(withdrawn)]), stranger)
    expect(run(record, theirs)).toMatchObject({ status: 0, words: expect.stringContaining('still stands is in no file here') })
    expect(run(record, theirs, '--key', kidOf(house))).toMatchObject({
      status: 1,
      words: expect.stringContaining('a key that you did not name'),
    })
  })
})

test('the program for Node takes no text for a number, whatever the house signed', () => {
  const lot = makeLot({ terms: makeTerms({ reserveMinor: pounds(30) }) })
  lot.bid('4K', pounds(60), 1)
  lot.bid('7R', pounds(90), 2)
  lot.say({ kind: 'hold', reason: 'Sound.' }, 3)
  lot.say({ kind: 'resume', shiftMs: 10 }, 4)
  lot.say({ kind: 'close' }, 3_600_010)
  const whole = structuredClone(lot.leaves)
  const files = [keep('whole.json', lot.history(house)), keep('of-lot.json', { ...lot.history(house), lot: '7' })]
  for (const place of placesOfNumbers(whole)) {
    lot.leaves.splice(0, lot.leaves.length, ...structuredClone(whole))
    asText(lot.leaves, place)
    files.push(keep(`${place.join('-')}.json`, lot.history(house)))
  }
  const { words } = run(...files)
  expect(words.match(/^Holds/gm)).toHaveLength(1)
  expect(words.match(/^Does not hold/gm)).toHaveLength(files.length - 1)
  expect(files.length).toBeGreaterThan(20)
})

type Place = (string | number)[]
function placesOfNumbers(value: unknown, path: Place = []): Place[] {
  if (typeof value === 'number') return [path]
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([name, one]) => placesOfNumbers(one, [...path, name]))
}
function asText(value: unknown, path: Place): void {
  const [name = '', ...rest] = path
  const node = value as Record<string | number, unknown>
  if (rest.length > 0) asText(node[name], rest)
  else node[name] = String(node[name])
}
