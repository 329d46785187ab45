import { expect, it, vi } from 'vitest'
import { lookedAt } from '#app/(public)/lots/[number]/history/looked-at.ts'
import { makeKey, makeLot, pounds } from '#test/make/lot-history'

// What keeps a file out of a browser's bundle refuses to be read outside of one.
vi.mock('server-only', () => ({}))

const keys = makeKey()
const published = [Buffer.from(keys.raw).toString('base64url')]
const given = () => {
  const lot = makeLot()
  lot.bid('Heron', pounds(60), 1_000)
  lot.bid('Teal', pounds(90), 2_000)
  return lot.history(keys)
}
const isWhole = async (history: ReturnType<typeof given>) => (await lookedAt(history, published)).findings.every(({ isSound }) => isSound)
it('a history that was checked before is checked anew when an entry was altered under the same head', async () => {
  const history = given()
  expect(await isWhole(history)).toBe(true)
  const leaves = history.leaves.map((leaf) => (leaf.kind === 'bid' && leaf.sequence === 1 ? { ...leaf, alias: 'Stork' } : leaf))
  // After a check it rests for a while.
  await expect.poll(() => isWhole({ ...history, leaves })).toBe(false)
})

it('a signature that is not the house’s is said on the page itself', async () => {
  const other = Buffer.from(makeKey().raw).toString('base64url')
  const { findings } = await lookedAt(makeLot({ number: 9 }).history(keys), [other])
  expect(findings.filter(({ isSound }) => !isSound).map(({ words }) => words)).toEqual([
    'A head carries a signature that is not the house’s.',
  ])
})
