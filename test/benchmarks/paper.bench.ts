import { createHash } from 'node:crypto'
import { test } from 'vitest'
import { verifyByLibrary, verifyEd25519 } from '#app/_trust/ed25519.ts'
import { draftCertificate } from '#bench/certificates/certificates.rules'
import { openSigned, partsToSign } from '#bench/certificates/jws.rules'
import { setPaper } from '#doors/papers/papers'
import { recordOf } from '#floor/record/record.service'
import { DAY } from '#kernel/instant'
import { labelsOrder } from '#stock/shelf/labels-paper'
import { makeTestedUnit } from '#test/make/certified-unit'
import { aKey, signedWith } from '#test/make/signing-key'
import { aLongUnit, anIssuer, aUnit, BENCH_OPENS } from '#test/make/unit-facts'
import { openStage } from '#test/stage'
import { type Row, row } from './rows'

// How long papers and checks take, as a ratio to hashing 8 MB in the same run on the same machine. Nothing is asserted: it prints.
async function median(work: () => unknown, times = 7): Promise<number> {
  const taken: number[] = []
  for (let turn = 0; turn < times; turn += 1) {
    const from = performance.now()
    await work()
    taken.push(performance.now() - from)
  }
  return taken.sort((a, b) => a - b)[Math.floor(times / 2)] ?? 0
}

test('papers, records and signatures', { timeout: 180_000 }, async () => {
  const megabytes = Buffer.alloc(8 * 1024 * 1024)
  const base = await median(() => createHash('sha256').update(megabytes).digest())
  const print = (what: string, taken: number, goal?: Row['goal']) => {
    process.stdout.write(`${what}: ${taken.toFixed(1)} ms (${(taken / base).toFixed(2)})\n`)
    row({ measure: `${what}, ms`, run: taken, baseline: base, of: 'SHA-256 of 8 MB', goal })
  }
  print('SHA-256 of 8 MB', base)
  const stage = openStage()
  const { tag } = await makeTestedUnit(stage)
  print('what the record page reads', await median(() => recordOf(stage.sight(), { tag })))
  stage.close()
  const at = BENCH_OPENS + 10 * DAY
  const draft = (unit = aUnit()) =>
    draftCertificate({ unit, issuer: anIssuer, serial: 'TS-2027-0147-M', issuedAt: at, home: 'https://longbench.example' })
  const paper = (payload = draft()) => setPaper({ of: 'certificate', payload, state: { is: 'current' }, size: 'a4', kid: 'key-1' })
  print('a certificate in print', await median(() => paper()), { runAtMost: 150 })
  print('a long one', await median(() => paper(draft(aLongUnit())), 3))
  const labels = Array.from({ length: 100 }, (_, n) => ({
    code: `https://longbench.example/bench/pieces/P-${n}`,
    tag: `P-${n}`,
    lines: ['a part', 'a batch'],
  }))
  print(
    '100 labels',
    await median(() => setPaper(labelsOrder({ paper: 'a4', size: 'piece', labels, title: 'Labels', author: 'Long Bench', at })), 3),
  )
  const key = aKey()
  const opened = openSigned(signedWith(key, partsToSign(draft(), key.kid)))
  if ('fault' in opened) throw new Error(opened.fault)
  const { signature, signed } = opened.opened
  const x = String((key.jwks().keys[0] as { x?: string }).x)
  print('a signature, by the platform', await median(() => verifyEd25519(x, signature, signed)))
  print('a signature, by the library', await median(() => verifyByLibrary(x, signature, signed)))
})
