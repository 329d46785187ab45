import { hexToBytes } from '@noble/hashes/utils.js'
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest'
import { checkWitness } from '#app/(public)/check/check-witness.ts'
import { readKeySet } from '#bench/certificates/key-set.rules'
import { ADDRESSES } from '#doors/web/addresses'
import { matchAddress } from '#runtime/call/address'
import { openNote } from '#sale/history/checkpoint.rules'
import { consistencyShape } from '#sale/history/history.contract'
import { readHistory } from '#sale/history/history.service'
import { isConsistent } from '#sale/history/merkle.rules'
import { shortHead } from '#sale/history/short-head.rules'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let number: number
let kept: string
let code: string
beforeAll(async () => {
  stage = openStage()
  ;({ number } = await makeOpenLot(stage))
  await (await makeBidder(stage, 'Ada')).bid(number, '50')
  kept = String(get(`/lots/${number}/checkpoint`)?.body)
  code = shortHead(rootHex(kept))
  await (await makeBidder(stage, 'Ben')).bid(number, '80')
})
afterAll(() => stage.close())
afterEach(() => vi.unstubAllGlobals())

const rootHex = (note: string) => Buffer.from(openNote(note)?.head.root ?? []).toString('hex')
function get(path: string) {
  const url = new URL(path, 'http://house')
  const match = matchAddress(ADDRESSES, url.pathname)
  return match ? match.address.answer(stage.sight(), match.params, url.searchParams) : null
}
function house() {
  const set = readKeySet(stage.house.keys.jwks())
  if ('fault' in set) throw new Error(set.fault)
  return set.keys
}
/** The browser asks the house, which shows this history. */
const shows = (change: (history: ReturnType<typeof readHistory>) => void = () => undefined) =>
  vi.stubGlobal('fetch', async () => {
    const history = structuredClone(readHistory(stage.sight(), number))
    change(history)
    return new Response(JSON.stringify(history))
  })
const verdict = async (written: string, lot = '') => {
  const found = await checkWitness(written, lot, house())
  return typeof found === 'string' ? found : found.map(({ tone, title }) => `${tone}: ${title}`)
}

describe('the newest signed head, at an address of its own', () => {
  it('is the last one of the history, in plain text', () => {
    const answer = get(`/lots/${number}/checkpoint`)
    expect(answer?.type).toBe('text/plain; charset=utf-8')
    expect(answer?.body).toBe(readHistory(stage.sight(), number).heads.at(-1)?.checkpoint)
    expect(get('/lots/99/checkpoint')).toBeNull()
  })

  it('is shown to continue each earlier one', () => {
    const sizes = readHistory(stage.sight(), number).heads.map(({ size }) => size)
    const { size, checkpoint, proofs } = consistencyShape.parse(
      JSON.parse(String(get(`/lots/${number}/consistency.json?from=${sizes.join(',')}`)?.body)),
    )
    const later = openNote(checkpoint)?.head.root ?? new Uint8Array()
    expect(proofs.map(({ from }) => from)).toEqual(sizes)
    for (const { from, path } of proofs) {
      const head = readHistory(stage.sight(), number).heads.find((one) => one.size === from)
      const earlier = openNote(head?.checkpoint ?? '')?.head.root ?? new Uint8Array()
      expect(isConsistent({ from, size, path: path.map(hexToBytes) }, earlier, later)).toBe(true)
    }
    for (const odd of ['', '?from=', '?from=0', '?from=4', '?from=1,x', '?from=1e0'])
      expect(get(`/lots/${number}/consistency.json${odd}`), odd).toBeNull()
  })
})

describe('what somebody kept of the history', () => {
  it('is continued: a checkpoint, and the code that was read out', async () => {
    shows()
    expect(await verdict(kept)).toEqual(['ok: It is this house’s, and whole.', 'ok: The history shown now continues it.'])
    expect(await verdict(code.toLowerCase().replaceAll(' ', ''), String(number))).toEqual(['ok: The history shown now continues it.'])
  })

  it('is not continued by a history that is another since', async () => {
    const other = openStage()
    await makeOpenLot(other)
    await (await makeBidder(other, 'Eve')).bid(number, '50')
    const [history, set] = [readHistory(other.sight(), number), readKeySet(other.house.keys.jwks())]
    other.close()
    vi.stubGlobal('fetch', async () => new Response(JSON.stringify(history)))
    const keys = [...house(), ...('keys' in set ? set.keys : [])]
    for (const [written, lot] of [
      [kept, ''],
      [code, String(number)],
    ] as const) {
      const found = await checkWitness(written, lot, keys)
      expect(typeof found === 'string' ? found : found.at(-1)).toMatchObject({
        tone: 'bad',
        title: 'The history shown now does not continue it.',
      })
    }
  })

  it('accuses nobody with a checkpoint of another house, or with one that this house did not sign', async () => {
    shows()
    const elsewhere = kept.replaceAll(kept.slice(0, kept.indexOf('/')), 'other.example')
    expect(await verdict(elsewhere)).toEqual(['doubt: The checkpoint is of another lot, and says nothing of this one.'])
    const written = kept.replace(/\n[A-Za-z0-9+/]{43}=\n/, `\n${Buffer.alloc(32, 7).toString('base64')}\n`)
    expect(await verdict(written)).toEqual([expect.stringContaining('It was changed: the signature does not fit')])
  })

  it('of a lot of which the house shows nothing any more is answered with a sentence: a head that it signed speaks against it', async () => {
    vi.stubGlobal('fetch', async () => new Response('', { status: 404 }))
    vi.stubGlobal('location', { host: kept.slice(0, kept.indexOf('/')) })
    expect(await verdict(kept)).toEqual(['ok: It is this house’s, and whole.', `bad: The house shows nothing of lot ${number} any more`])
    expect(await verdict(code, String(number))).toEqual([`doubt: This house shows no history of lot ${number}.`])
    const written = kept.replace(/\n[A-Za-z0-9+/]{43}=\n/, `\n${Buffer.alloc(32, 7).toString('base64')}\n`)
    expect(await verdict(written)).toEqual([expect.stringContaining('It was changed: the signature does not fit')])
  })

  it('is compared with no history that does not hold by itself', async () => {
    shows((history) => Object.assign(history.leaves[1] ?? {}, { standingMinor: 1 }))
    expect(await verdict(kept)).toEqual([expect.stringContaining('bad: It was changed')])
  })

  it.each([
    ['', '', 'Paste a checkpoint'],
    ['ABCD', '1', 'twenty characters'],
    ['house/lots/7\n3\n', '', 'not a whole checkpoint'],
  ])('%j is answered in words', async (written, lot, words) => {
    expect(await verdict(written, lot)).toContain(words)
  })

  it('a code without its lot is answered in words', async () => {
    expect(await verdict(code, '')).toContain('number of the lot')
  })
})
