import { join } from 'node:path'
import Database from 'better-sqlite3'
import { sql } from 'drizzle-orm'
import { afterEach, expect, test } from 'vitest'
import { Refusal } from '#kernel/refusal'
import type { Reaction } from '#runtime/queue/reactions'
import { closeDueLots } from '#sale/closings/close-due.service'
import { gathered } from '#test/make/gathered'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const atHammer = (act: () => void): Reaction => ({ to: ['hammer.fell'], act })

/** A lot with two bidders whose closing has come. */
async function makeDueLot() {
  const { number, closesAt } = await makeOpenLot(stage)
  const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
  await ben.bid(number, '155')
  await ada.bid(number, '210')
  stage.clock.set(closesAt)
  return { number, ada, ben, letters: stage.letters().length }
}

test('the entry of the hammer and the end of its lot are seen by nobody before both are', async () => {
  const seenFromOutside: unknown[] = []
  const seen = () => {
    const file = new Database(join(stage.dir, 'tagstrip.db'), { readonly: true })
    const state = file.prepare('SELECT state FROM lot').pluck().get()
    const entries = file.prepare('SELECT kind FROM entry ORDER BY rowid').pluck().all()
    file.close()
    return { state, entries }
  }
  const seenInside: unknown[] = []
  stage = openStage({
    also: [
      atHammer(() => {
        seenInside.push(stage.db.all(sql`SELECT lot.state, entry.kind FROM lot JOIN entry ON entry.lot_id = lot.id ORDER BY entry.rowid`))
        seenFromOutside.push(seen())
      }),
    ],
  })
  const { number } = await makeDueLot()
  await stage.command(closeDueLots)
  expect(seenInside).toEqual([
    [
      { state: 'sold', kind: 'hammer' },
      { state: 'sold', kind: 'postage' },
    ],
  ])
  expect(seenFromOutside).toEqual([{ state: 'open', entries: [] }])
  expect(seen()).toEqual({ state: 'sold', entries: ['hammer', 'postage'] })
  const kinds = stage.facts().flatMap(({ kind, subject }) => (subject === `lot:${number}` ? [kind] : []))
  expect(kinds.slice(kinds.indexOf('lot.closed'))).toEqual(['lot.closed', 'hammer.fell', 'money.hammer', 'money.postage'])
})

test('the winner has the invoice, which says what the journal says, before the underbidder is told', async () => {
  stage = openStage()
  const { ada, ben, letters } = await makeDueLot()
  await stage.command(closeDueLots)
  await gathered(stage)
  const sent = stage.db.all<{ recipient: string; body: string }>(sql`SELECT recipient, body FROM letter ORDER BY rowid`).slice(letters)
  expect(sent.map(({ recipient }) => recipient)).toEqual([ada.actor.email, ben.actor.email])
  expect(sent[0]?.body).toContain('Together: £177.00')
})

test('a hammer that cannot be booked is no sale: the lot stays open, and nobody is written to', async () => {
  let isShut = true
  stage = openStage({
    also: [
      atHammer(() => {
        if (isShut) throw new Refusal('conflict', 'The till is shut.')
      }),
    ],
  })
  const { number, letters } = await makeDueLot()
  const before = stage.facts().length
  await expect(stage.command(closeDueLots)).rejects.toThrow('The till is shut.')
  expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({ state: 'open', hammerMinor: null })
  expect(stage.facts()).toHaveLength(before)
  expect(stage.letters()).toHaveLength(letters)
  isShut = false
  await stage.command(closeDueLots)
  expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({ state: 'sold', hammerMinor: 16_500 })
})
