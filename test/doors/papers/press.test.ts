import { join } from 'node:path'
import { build } from 'esbuild'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { CertificateOrder } from '#bench/certificates/certificate-paper'
import { draftCertificate } from '#bench/certificates/certificates.rules'
import { onThisThread, openPress, type Press } from '#doors/papers/press'
import { DAY } from '#kernel/instant'
import { openLog } from '#runtime/settings/log'
import { openWorkshop } from '#runtime/workers/workers'
import { anIssuer, aUnit, BENCH_OPENS } from '#test/make/unit-facts'

const root = join(import.meta.dirname, '..', '..', '..')
// Within the project, so that the bundle finds its packages.
const bundle = join(root, 'node_modules', '.vite-temp', 'paper-worker.mjs')
const here = openPress(onThisThread)
let onItsThread: Press
beforeAll(async () => {
  await build({
    entryPoints: [join(root, 'server', 'doors', 'papers', 'paper-worker.ts')],
    outfile: bundle,
    bundle: true,
    packages: 'external',
    platform: 'node',
    target: 'node20',
    format: 'esm',
  })
  onItsThread = openPress(openWorkshop({ entry: bundle, log: openLog('silent') }))
})
afterAll(() => onItsThread.close())

const order = (serial = 'TS-2027-0147-M'): CertificateOrder => {
  const home = 'https://longbench.example'
  const payload = draftCertificate({ unit: aUnit(), issuer: anIssuer, serial, issuedAt: BENCH_OPENS + 10 * DAY, home })
  return { of: 'certificate', payload, state: { is: 'current' }, size: 'a4', kid: 'key-1' }
}

test('the paper that the press sets on its own thread is the same, byte for byte', async () => {
  const paper = await onItsThread.print(order())
  expect(Buffer.from(paper.subarray(0, 8)).toString('latin1')).toBe('%PDF-1.7')
  expect(Buffer.from(paper).equals(Buffer.from(await here.print(order())))).toBe(true)
})

test('the house goes on with other work while a paper is set', async () => {
  // On the house's own thread there are two rounds at most, however fast the machine is: the paper is set in one go.
  const onOne = await roundsWhile(() => here.print(order('TS-2027-0200-K')))
  expect(onOne).toBeLessThan(5)
  await onItsThread.print(order())
  let most = 0
  // A machine that is busy with something else may give the main thread no turn during one paper, but not during ten.
  for (let n = 0; n < 10 && most <= 20; n += 1)
    most = Math.max(most, await roundsWhile(() => onItsThread.print({ ...order(`TS-2027-${3000 + n}-L`), size: 'letter' })))
  expect(most).toBeGreaterThan(20)
})

/** How many rounds of other work the main thread does until a paper is there. */
async function roundsWhile(print: () => Promise<Uint8Array>): Promise<number> {
  let rounds = 0
  let isPrinted = false
  const paper = print().finally(() => {
    isPrinted = true
  })
  while (!isPrinted) {
    rounds += 1
    await new Promise(setImmediate)
  }
  expect((await paper).length).toBeGreaterThan(10_000)
  return rounds
}

test('a paper asked for again is not set again; one whose certificate ended is', async () => {
  const first = await here.print(order())
  expect(await here.print(order())).toBe(first)
  expect(
    await here.print({
      ...order(),
      state: { is: 'withdrawn', at: BENCH_OPENS + 11 * DAY, reason: 'Coil T1 replaced.', again: [], by: null },
    }),
  ).not.toBe(first)
})

test('the forty papers asked for last are kept, and no more', async () => {
  const serials = Array.from({ length: 41 }, (_, index) => `TS-2027-${1000 + index}-X`)
  let set = 0
  const counting = openPress({ ...onThisThread, make: async () => new Uint8Array([++set]) })
  for (const serial of serials) await counting.print(order(serial))
  await counting.print(order(serials[40]))
  expect(set).toBe(41)
  await counting.print(order(serials[0]))
  expect(set).toBe(42)
})

test('a paper that could not be set is refused with what went wrong, and tried again when asked for again', async () => {
  const serial = 'TS-2027-0148-K'
  const broken = { ...order(), payload: { ...order().payload, serial, results: null } } as unknown as CertificateOrder
  await expect(onItsThread.print(broken)).rejects.toThrow(/null/)
  await expect(onItsThread.print(order(serial))).resolves.toBeInstanceOf(Uint8Array)
})
