import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { findPerson } from '#people/people/people.service'
import type { Sweep } from '#runtime/queue/ticker'
import type { Actor, Turn } from '#runtime/queue/turn'
import { readWithin } from './sheet-reader'
import type { PlanItem, storeSheetIn } from './sheets.contract'
import { getSheet, openSheet, orderOf, type Reading } from './sheets.service'
import * as store from './sheets.store'
import { storeItem } from './store-item.service'

export interface Storing extends Reading {
  command<T>(work: (turn: Turn) => T): Promise<T>
}

/** So many gifts and donors in one turn: bids come in between. */
const AT_ONCE = 15
/** What was begun and is not gone on with, since the house was closed over it, is finished after this. */
const FINISHED_AFTER_MS = 5_000

/**
 * Stores all that a sheet says, or nothing. What is to be stored is settled in one turn and then stored a little in each of
 * the following ones; should the house be closed over it, it is finished once it is open again. Asked for twice it is done once.
 */
export async function storeSheet(
  house: Storing,
  actor: Actor,
  { id, digest }: z.output<typeof storeSheetIn>,
): Promise<{ state: 'stored' }> {
  const row = getSheet(house.sight(), id)
  if (row.state === 'open') {
    const read = await readWithin(house.sheetReader, orderOf(house.sight(), row, { isToBeStored: true }))
    const { plan } = read
    if (plan === null) throw new Refusal('bad-input', 'Something is still to be corrected or answered. Nothing was stored.')
    if (read.digest !== digest)
      throw new Refusal('conflict', 'What would be stored is no longer what you were shown, since something has changed here. Look again.')
    await house.command((turn) => settle(turn, actor, row, { plan, summary: read.summary, content: read.content }))
  }
  for (;;) if (await house.command((turn) => storeSome(turn, id))) return { state: 'stored' }
}

function settle(
  turn: Turn,
  actor: Actor,
  seen: store.SheetRow,
  { plan, summary, content }: { plan: readonly PlanItem[]; summary: readonly string[]; content: string },
): void {
  const row = openSheet(turn, seen.id)
  if (row.choice !== seen.choice || row.answers !== seen.answers)
    throw new Refusal('conflict', 'Somebody has changed how this sheet is read since you looked. Look again.')
  const ids = new Map(plan.flatMap((item) => (item.is === 'donor' ? [[item.donor, turn.dice.id()] as const] : [])))
  const named = plan.map((item) => ('donor' in item ? { ...item, donor: ids.get(item.donor) ?? item.donor } : item))
  store.updateSheet(turn.db, row.id, {
    state: 'storing',
    base64: null,
    pasted: null,
    choice: '{}',
    answers: '{}',
    plan: JSON.stringify(named),
    items: named.length,
    summary: JSON.stringify(summary),
    digest: content,
    changedAt: turn.now,
    byPersonId: actor.personId,
  })
}

/** The plan that was read last: it is read from its row once, not in every turn. */
let latest: { id: string; plan: PlanItem[] } | null = null

/** Stores the next things of a sheet; true once there are none left. */
function storeSome(turn: Turn, id: string): boolean {
  const row = getSheet(turn, id)
  if (row.state !== 'storing') return row.state === 'stored'
  const plan = latest?.id === id ? latest.plan : (JSON.parse(row.plan ?? '[]') as PlanItem[])
  latest = { id, plan }
  const actor = actorOf(turn, row.byPersonId)
  let { done } = row
  let weight = 0
  for (; done < plan.length && weight < AT_ONCE; done++) {
    const item = plan[done]
    if (!item) break
    storeItem(turn, actor, item)
    weight += item.is === 'giving' ? item.gifts.length : 1
  }
  const isStored = done === plan.length
  store.updateSheet(turn.db, id, {
    done,
    changedAt: turn.now,
    ...(isStored ? { state: 'stored', plan: null, storedAt: turn.now } : {}),
  })
  if (!isStored) return false
  latest = null
  turn.record({ kind: 'sheet.stored', subject: `sheet:${id}`, body: { sheetId: id, what: row.what, items: plan.length } })
  return true
}

function actorOf(turn: Turn, personId: string | null): Actor {
  const person = personId === null ? null : findPerson(turn, personId)
  if (!person) throw new Refusal('not-found', 'Whoever brought this sheet is not here any more.')
  return { personId: person.id, role: person.role, name: person.name, email: person.email }
}

export const sheetSweep: Sweep = {
  name: 'sheets',
  nextAt(sight) {
    const since = store.storingSince(sight.db)
    return since === null ? null : since + FINISHED_AFTER_MS
  },
  run(turn) {
    // One of them at a time, and a little of it: the next turn is due at once.
    const row = store.storingRows(turn.db).find(({ changedAt }) => changedAt + FINISHED_AFTER_MS <= turn.now)
    if (row) storeSome(turn, row.id)
  },
}
