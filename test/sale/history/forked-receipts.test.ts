import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { bytesToHex } from '@noble/hashes/utils.js'
import { afterAll, describe, expect, it } from 'vitest'
import { checkChosen } from '#app/(public)/check/check-chosen.ts'
import { readKeySet, thumbprintOf } from '#bench/certificates/key-set.rules'
import { SECOND } from '#kernel/instant'
import { hashOfLeaf } from '#sale/history/ledger.rules'
import { inclusionPath } from '#sale/history/merkle.rules'
import { makeKey, makeLot, pounds } from '#test/make/lot-history'

/** Receipts of a house that shows one history to one bidder and another to the next: each of them holds by itself. */

const key = makeKey()
const x = Buffer.from(key.raw).toString('base64url')
const jwks = { keys: [{ kty: 'OKP', crv: 'Ed25519', x, kid: thumbprintOf(x) }] }
const read = readKeySet(jwks)
const keysOfHouse = 'keys' in read ? read.keys : []
const folder = mkdtempSync(join(tmpdir(), 'tagstrip-forked-'))
afterAll(() => rmSync(folder, { recursive: true }))
const program = join(import.meta.dirname, '..', '..', '..', 'public', 'tagstrip-check.mjs')

/** The receipts of all bids of a history in which each of these bids a pound more than the one before. */
function receiptsOf(aliases: string[], isOfLastHead = false) {
  const lot = makeLot({})
  for (const [index, alias] of aliases.entries()) lot.bid(alias, pounds(50 + index * 10), (index + 1) * SECOND)
  const { leaves, heads } = lot.history(key)
  return leaves.flatMap((leaf, index) => {
    const [head, opening] = [isOfLastHead ? heads.at(-1) : heads[index], lot.openings[index - 1]]
    if (leaf.kind !== 'bid' || !head || !opening) return []
    const path = inclusionPath(leaves.slice(0, head.size).map(hashOfLeaf), index).map(bytesToHex)
    return [{ leaf, index, size: head.size, path, checkpoint: head.checkpoint, opening: { lot: 7, ...opening } }]
  })
}

async function foundIn(receipts: object[]) {
  const content = JSON.stringify({ kind: 'tagstrip-receipts', version: 1, receipts })
  const [file, keys] = [join(folder, 'receipts.json'), join(folder, 'jwks.json')]
  writeFileSync(file, content)
  writeFileSync(keys, JSON.stringify(jwks))
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, file, keys], { encoding: 'utf8' })
  const chosen = await checkChosen([{ name: 'receipts.json', bytes: new TextEncoder().encode(content) }], keysOfHouse)
  return { page: chosen[0], status, words: stdout + stderr }
}

describe('receipts of one lot', () => {
  it('of one history hold together', async () => {
    expect(await foundIn(receiptsOf(['4K', '9F', '7R']))).toMatchObject({ page: { tone: 'ok' }, status: 0 })
  })

  it.each([
    ['heads of one size with different roots', [receiptsOf(['4K', '9F'])[1], receiptsOf(['4K', '7R'])[1]], /head at 3 entries/],
    ['two bids of one number', [receiptsOf(['4K'])[0], receiptsOf(['9F', '4K'], true)[0]], /entry 2 of/],
  ])('with %s prove that the house showed two histories', async (_, receipts, words) => {
    for (const own of [receipts, receipts.toReversed()]) {
      const found = await foundIn(own as object[])
      expect(found.page).toMatchObject({ tone: 'bad', title: expect.stringMatching(words) })
      expect(found.page?.title).toMatch(/two receipts show two different histories/i)
      expect(found.words).toMatch(words)
      expect(found.status).toBe(1)
    }
    for (const one of receipts) expect((await foundIn([one as object])).status).toBe(0)
  })
})
