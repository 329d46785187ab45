import { describe, expect, test } from 'vitest'
import { verifyByLibrary, verifyEd25519 } from '#app/_trust/ed25519.ts'
import { toBase64url } from '#bench/certificates/base64url.rules'
import { draftCertificate } from '#bench/certificates/certificates.rules'
import { checkSigned } from '#bench/certificates/check.rules'
import { readChosen, readLink } from '#bench/certificates/chosen-file.rules'
import { firstDifference } from '#bench/certificates/difference.rules'
import { canonicalText, partsToSign } from '#bench/certificates/jws.rules'
import { readKeySet, thumbprintOf } from '#bench/certificates/key-set.rules'
import { publicRecord, recordForMachines } from '#bench/certificates/public-record.rules'
import { DAY } from '#kernel/instant'
import { aKey, signedWith } from '#test/make/signing-key'
import { anIssuer, aUnit, BENCH_OPENS } from '#test/make/unit-facts'

const xOf = (key: ReturnType<typeof aKey>) => String((key.jwks().keys[0] as { x?: string }).x)
/** A key whose name is its fingerprint, as the house's are. */
const namedKey = (seed?: string) => aKey(thumbprintOf(xOf(aKey('any', seed))), seed)
const key = namedKey()
const other = namedKey('4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb')
const setOf = (...some: ReturnType<typeof aKey>[]) => {
  const read = readKeySet({ keys: some.flatMap((one) => one.jwks().keys) })
  if ('fault' in read) throw new Error(read.fault)
  return read.keys
}
const small = aUnit({ checks: aUnit().checks.slice(0, 2), fitted: [], instruments: [] })
const draft = (unit = small) =>
  draftCertificate({
    unit,
    issuer: anIssuer,
    serial: 'TS-2027-0147-M',
    issuedAt: BENCH_OPENS + 10 * DAY,
    home: 'https://longbench.example',
  })
const payload = draft()
const signed = signedWith(key, partsToSign(payload, key.kid))
const bytes = (text: string) => new TextEncoder().encode(text)
const file = bytes(JSON.stringify(signed))

/** As the page does it: the bytes of a file, then what they say. */
async function checkFile(some: Uint8Array, keys = setOf(key)) {
  const chosen = readChosen(some)
  if ('fault' in chosen) return { outcome: 'broken', words: chosen.fault }
  if (chosen.kind !== 'signed') return { outcome: 'broken', words: `it is ${chosen.kind}` }
  return checkSigned(chosen.value, keys, async (x, signature, text) => verifyByLibrary(x, signature, text))
}

describe('a signed record', () => {
  test('holds by the browser’s own cryptography and by the library', async () => {
    for (const verify of [verifyEd25519, async (x: string, s: Uint8Array, t: Uint8Array) => verifyByLibrary(x, s, t)]) {
      expect(await checkSigned(signed, setOf(key), verify)).toMatchObject({ outcome: 'holds', isOldKey: false, document: payload })
    }
  })

  test('does not hold with any one byte of its file flipped, whichever bit it is', async () => {
    for (let at = 0; at < file.length; at += 1) {
      const forged = file.slice()
      forged[at] = (forged[at] ?? 0) ^ (1 << (at % 8))
      expect((await checkFile(forged)).outcome, `byte ${at}`).not.toBe('holds')
    }
  }, 120_000)

  test('does not hold with any bit of the last characters of a part flipped', async () => {
    for (const part of ['protected', 'payload', 'signature'] as const) {
      const last = signed[part].charCodeAt(signed[part].length - 1)
      for (let bit = 0; bit < 7; bit += 1) {
        const forged = { ...signed, [part]: signed[part].slice(0, -1) + String.fromCharCode(last ^ (1 << bit)) }
        expect((await checkFile(bytes(JSON.stringify(forged)))).outcome, `${part}, bit ${bit}`).toBe('broken')
      }
    }
  })

  test('signed with an earlier key of the house still holds, and says that the key is an earlier one', async () => {
    const check = await checkFile(file, setOf(key, other))
    expect(check).toMatchObject({ outcome: 'holds', isOldKey: true })
    expect(check.words).toContain('the earlier key')
  })
})

const resigned = (change: object) => {
  const head = toBase64url(bytes(canonicalText({ alg: 'EdDSA', kid: key.kid })))
  const body = toBase64url(bytes(canonicalText({ ...payload, ...change })))
  return { payload: body, protected: head, signature: toBase64url(key.sign(bytes(`${head}.${body}`))) }
}

describe('bad input is named in words', () => {
  test.each<[string, Uint8Array | object, RegExp]>([
    ['an empty file', new Uint8Array(), /empty/],
    ['a file that was cut off', file.slice(0, -40), /ends in the middle: it was cut off/],
    ['a file cut off within its first word', file.slice(0, 5), /ends in the middle/],
    [
      'a file that an editor saved as UTF-16',
      new Uint8Array(Buffer.from(`\uFEFF${JSON.stringify(signed)}`, 'utf16le')),
      /another encoding/,
    ],
    ['a file in Latin-1', new Uint8Array(Buffer.from('{"a":"\u00e9"}', 'latin1')), /not UTF-8/],
    ['the paper in its place', bytes('%PDF-1.7 and so on'), /This is the paper/],
    ['a saved web page', bytes('<!DOCTYPE html><html></html>'), /saved web page/],
    ['JSON of another kind', bytes('{"hello":1}'), /none of the things that can be checked/],
    ['a signature with padding', { ...signed, signature: `${signed.signature}==` }, /padded with "="/],
    [
      'plain base64',
      { ...signed, payload: Buffer.from(signed.payload, 'base64url').toString('base64').replace(/=+$/, '').replace('i', '+') },
      /plain base64/,
    ],
    [
      'lines that a mail program wrapped',
      { ...signed, payload: `${signed.payload.slice(0, 76)}\n${signed.payload.slice(76)}` },
      /spaces or line breaks/,
    ],
    ['a signature that was cut', { ...signed, signature: signed.signature.slice(0, 80) }, /60 bytes; one of Ed25519 has 64/],
    [
      'a last character changed',
      { ...signed, signature: `${signed.signature.slice(0, -1)}${signed.signature.endsWith('B') ? 'C' : 'B'}` },
      /last character of its signature/,
    ],
    ['a key that nobody here knows', signedWith(other, partsToSign(payload, other.kid)), /none of the one key at hand/],
    ['another key under this one’s name', signedWith(other, partsToSign(payload, key.kid)), /signed anew by another key/],
    ['a version to come', resigned({ version: 2 }), /version 2; this page reads version 1/],
    ['another kind of document', resigned({ kind: 'a-letter' }), /not a certificate of the form/],
  ])('%s', async (_what, input, words) => {
    const check = await checkFile(input instanceof Uint8Array ? input : bytes(JSON.stringify(input)))
    expect(check.outcome).not.toBe('holds')
    expect(check.words).toMatch(words)
  })

  test('no key at hand is no reason to call a record broken', async () => {
    expect(await checkFile(file, [])).toMatchObject({ outcome: 'unable', words: expect.stringContaining('jwks.json') })
  })

  test('a byte order mark that an editor put before the record changes nothing', async () => {
    expect((await checkFile(new Uint8Array([0xef, 0xbb, 0xbf, ...file]))).outcome).toBe('holds')
  })
})

describe('a key set', () => {
  test('in which a key stands under a name that is not its fingerprint is refused', () => {
    const [jwk] = key.jwks().keys
    expect(readKeySet({ keys: [{ ...jwk, kid: other.kid }] })).toMatchObject({ fault: expect.stringContaining('not its fingerprint') })
  })

  test('with nothing of Ed25519 in it is refused', () => {
    expect(readKeySet({ keys: [{ kty: 'RSA', kid: 'x' }] })).toHaveProperty('fault')
    expect(readKeySet(null)).toHaveProperty('fault')
  })
})

describe('the first field that differs', () => {
  const full = draft(aUnit())
  const record = () => JSON.parse(JSON.stringify(recordForMachines(publicRecord(aUnit(), true), full.serial)))

  test('is none between a certificate and the record of the same unit', () => {
    expect(firstDifference(full, record())).toBeNull()
    expect(firstDifference(full, structuredClone(full))).toBeNull()
  })

  test('is none where a record works out anew the reference and the role of who read', () => {
    const later = record()
    for (const result of later.results) Object.assign(result, { reference: 4.2, takenBy: 'the volunteer' })
    expect(firstDifference(full, later)).toBeNull()
  })

  test.each<[string, (other: ReturnType<typeof record>) => void, string, RegExp]>([
    [
      'a reading',
      (r) => {
        r.results[3].shown = '9.99'
      },
      `results.${full.results[3]?.check}.shown`,
      /the reading: signed as “.+”, the record says “9.99”/,
    ],
    [
      'a limit',
      (r) => {
        r.results[1].upper = 1e6
      },
      `results.${full.results[1]?.check}.upper`,
      /the upper limit: signed as/,
    ],
    [
      'a reading left out',
      (r) => {
        r.results.splice(2, 1)
      },
      `results.${full.results[2]?.check}`,
      /is missing from the record/,
    ],
    [
      'a reading put in',
      (r) => {
        r.results.push({ ...r.results[0], check: 'Z9' })
      },
      `results.${full.results.length + 1}`,
      /entries, \d+ were signed/,
    ],
    [
      'what was mended',
      (r) => {
        r.reworks[0].what = 'Nothing much.'
      },
      'reworks.1.what',
      /What was mended, entry 1, what/,
    ],
    [
      'a caution',
      (r) => {
        r.design.cautions = []
      },
      'cautions.1',
      /cautions.*missing/,
    ],
    [
      'the tag',
      (r) => {
        r.tag = 'TERN-04'
      },
      'tag',
      /signed as “TERN-03”, the record says “TERN-04”/,
    ],
  ])('names %s', (_what, change, path, words) => {
    const changed = record()
    change(changed)
    expect(firstDifference(full, changed)).toMatchObject({ path, words: expect.stringMatching(words) })
  })

  test('of a document is the first in the order in which it was signed', () => {
    const changed = structuredClone(full)
    changed.quirks = ['None at all.']
    changed.item.tag = 'TERN-09'
    expect(firstDifference(full, changed)?.path).toBe('item.tag')
  })
})

test.each([
  ['https://longbench.example/certificates/TS-2027-0147-M', { serial: 'TS-2027-0147-M', home: 'https://longbench.example' }],
  [' ts-2027-0147-m ', { serial: 'TS-2027-0147-M', home: null }],
  ['https://longbench.example/lots/7', null],
])('the link %j', (written, link) => {
  expect(readLink(written)).toEqual(link)
})
