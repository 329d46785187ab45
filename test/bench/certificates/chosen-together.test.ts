import { describe, expect, it, test } from 'vitest'
import { checkChosen } from '#app/(public)/check/check-chosen.ts'
import { draftCertificate } from '#bench/certificates/certificates.rules'
import { canonicalText, partsToSign } from '#bench/certificates/jws.rules'
import { readKeySet, thumbprintOf } from '#bench/certificates/key-set.rules'
import { DAY } from '#kernel/instant'
import { makeLot, makeKey as makeLotKey } from '#test/make/lot-history'
import { aKey, signedWith } from '#test/make/signing-key'
import { anIssuer, aUnit, BENCH_OPENS } from '#test/make/unit-facts'

/** Files that somebody chooses together on the checking page, as the page judges them. */

const xOf = (key: ReturnType<typeof aKey>) => String((key.jwks().keys[0] as { x?: string }).x)
const named = (seed?: string) => aKey(thumbprintOf(xOf(aKey('any', seed))), seed)
const house = named()
const keysOf = (key: typeof house) => {
  const read = readKeySet(key.jwks())
  if ('fault' in read) throw new Error(read.fault)
  return read.keys
}
const unit = aUnit()
const certificate = draftCertificate({
  unit,
  issuer: anIssuer,
  serial: 'TS-2027-0147-M',
  issuedAt: BENCH_OPENS + 10 * DAY,
  home: 'https://longbench.example',
})
const signed = (document: object, key = house) => signedWith(key, partsToSign(document, key.kid))
const own = signed(certificate)
const file = (name: string, content: unknown) => ({ name, bytes: new TextEncoder().encode(JSON.stringify(content)) })
const check = (...files: ReturnType<typeof file>[]) => checkChosen(files, keysOf(house))

describe('one file that nobody can read keeps no other from being judged', () => {
  it.each<[string, object]>([
    ['without a payload', { protected: own.protected, signature: own.signature }],
    ['with a number as its payload', { ...own, payload: 7 }],
    ['with a list as its payload', { ...own, payload: ['x'] }],
    ['with null as what it claims to say', { ...own, payload: 'bnVsbA' }],
    [
      'that claims results which are no list',
      { ...own, payload: Buffer.from(canonicalText({ ...certificate, results: 7 })).toString('base64url') },
    ],
    [
      'that claims results of null',
      { ...own, payload: Buffer.from(canonicalText({ ...certificate, results: [null] })).toString('base64url') },
    ],
    ['of a record that names its certificate by an object', { kind: 'tagstrip-record', certificate: { toString: 1 } }],
    ['of a lot, of another form', { ...makeLot({}).history(makeLotKey()), leaves: [{ kind: 7 }, null], heads: 'x' }],
  ])('%s', async (_, bad) => {
    const record = { kind: 'tagstrip-record', tag: unit.tag, results: [] }
    const findings = await check(file('bad.json', bad), file('good.json', own), file('other.json', { ...record, certificate: 'none' }))
    expect(findings.filter(({ about }) => about === 'bad.json').some(({ tone }) => tone !== 'ok')).toBe(true)
    expect(findings.find(({ about, isVerdict }) => about === 'good.json' && isVerdict)?.tone).toBe('ok')
    expect(findings.find(({ about }) => about === 'other.json')?.tone).toBe('bad')
  })
})
void test
