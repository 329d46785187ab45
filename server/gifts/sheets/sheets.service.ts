import type { z } from 'zod'
import { listEarlier } from '#bench/earlier/earlier.service'
import { civilOf } from '#kernel/civil'
import { Refusal } from '#kernel/refusal'
import type { TableChoice } from '#kernel/table-in'
import { findCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { listParts } from '#stock/catalogue/part.service'
import { listDonors } from '#stock/donors/donor.service'
import { listGifts } from '#stock/donors/gift.service'
import { isThing } from './plan.rules'
import { readWithin, type SheetReader } from './sheet-reader'
import type { SheetOrder } from './sheet-reading'
import type { beginSheetIn, chooseSheetIn, SheetRead, SheetState, SheetWhat } from './sheets.contract'
import * as store from './sheets.store'

/** What reading a sheet needs of the house. */
export interface Reading {
  sheetReader: SheetReader
  sight(): Sight
}

export interface ListedSheet {
  id: string
  what: SheetWhat
  name: string
  state: SheetState
  /** Of what is being stored, how much is. */
  items: number
  done: number
  summary: string[]
  at: number
  storedAt: number | null
}

/** A sheet as it stands: how it reads now, or what was stored of it. */
export interface SheetPage extends ListedSheet {
  choice: TableChoice
  answers: Record<string, string>
  read: SheetRead | null
}

/** More than this at once are a slip. */
const MOST_OPEN = 12

/** Keeps a sheet as it came, so that whoever brought it can leave and come back. Nothing of it is stored yet. */
export function beginSheet(turn: Turn, actor: Actor, { what, name, base64, text }: z.output<typeof beginSheetIn>): { id: string } {
  if (store.countOpenSheets(turn.db) >= MOST_OPEN)
    throw new Refusal('too-many', `There are ${MOST_OPEN} sheets that have been begun. Finish or throw away one of them first.`)
  const pasted = (text ?? '').trim() === '' ? null : (text ?? null)
  const id = turn.dice.id()
  store.insertSheet(turn.db, {
    id,
    what,
    name: pasted === null ? name : 'pasted rows',
    base64: pasted === null ? (base64 ?? '') : null,
    pasted,
    choice: '{}',
    answers: '{}',
    state: 'open',
    plan: null,
    items: 0,
    done: 0,
    summary: '[]',
    digest: null,
    at: turn.now,
    changedAt: turn.now,
    storedAt: null,
    byPersonId: actor.personId,
  })
  turn.record({ kind: 'sheet.begun', subject: `sheet:${id}`, body: { sheetId: id, what } })
  return { id }
}

export const listSheets = (sight: Sight): ListedSheet[] =>
  store.listSheetRows(sight.db).map(({ summary, ...row }) => ({ ...row, summary: JSON.parse(summary) as string[] }))

/** A sheet with how it reads now. Nothing is stored by looking. */
export async function readSheetPage(house: Reading, id: string): Promise<SheetPage> {
  const row = getSheet(house.sight(), id)
  const { what, name, state, items, done, at, storedAt } = row
  const choice = JSON.parse(row.choice) as TableChoice
  const answers = JSON.parse(row.answers) as Record<string, string>
  const page = { id, what, name, state, items, done, at, storedAt, choice, answers, summary: JSON.parse(row.summary) as string[] }
  if (state !== 'open') return { ...page, read: null }
  const { plan: _plan, content: _content, ...read } = await readWithin(house.sheetReader, orderOf(house.sight(), row))
  return { ...page, read }
}

/** Another way to read its columns, cells as they are meant, answers: kept as they are given. */
export function chooseSheet(turn: Turn, { id, choice, answers }: z.output<typeof chooseSheetIn>): void {
  openSheet(turn, id)
  store.updateSheet(turn.db, id, {
    ...(choice === undefined ? {} : { choice: JSON.stringify(choice) }),
    ...(answers === undefined ? {} : { answers: JSON.stringify(answers) }),
    changedAt: turn.now,
  })
}

/** One that was begun and is not wanted: all of it goes. */
export function dropSheet(turn: Turn, id: string): void {
  openSheet(turn, id)
  store.deleteOpenSheet(turn.db, id)
  turn.record({ kind: 'sheet.dropped', subject: `sheet:${id}`, body: { sheetId: id } })
}

export function getSheet(sight: Sight, id: string): store.SheetRow {
  const row = store.findSheetRow(sight.db, id)
  if (!row) throw new Refusal('not-found', 'There is no such sheet. It may have been thrown away.')
  return row
}

export function openSheet(sight: Sight, id: string): store.SheetRow {
  const row = getSheet(sight, id)
  if (row.state !== 'open') throw new Refusal('conflict', 'This sheet has been stored already. Reload the page.')
  return row
}

/** A sheet with all that its reader has to know of the house. */
export function orderOf(sight: Sight, row: store.SheetRow, { isToBeStored = false } = {}): SheetOrder {
  const { what, base64, pasted } = row
  const campaign = findCampaign(sight)
  const isAboutPeople = what !== 'machines'
  return {
    what,
    base64,
    pasted,
    isToBeStored,
    choice: JSON.parse(row.choice) as TableChoice,
    answers: JSON.parse(row.answers) as Record<string, string>,
    facts: {
      donors: isAboutPeople
        ? listDonors(sight).flatMap(({ id, name, creditName, contact, isStandIn }) => (isStandIn ? [] : { id, name, creditName, contact }))
        : [],
      currency: campaign?.currency ?? null,
      today: civilOf(sight.now, campaign?.zone ?? 'UTC').slice(0, 10),
      catalogue:
        what === 'shelf'
          ? listParts(sight).map(({ kind, name, value, package: size, rating, programmed, words }) => {
              return { kind, name, value, package: size, rating, programmed, words }
            })
          : [],
      inWords: what === 'shelf' ? giftsInWords(sight) : {},
      earlier: what === 'machines' ? listEarlier(sight).map(({ id: _id, ...machine }) => machine) : [],
      stored: store.storedDigests(sight.db),
    },
  }
}

/** Things that came and are noted in words, by donor. */
function giftsInWords(sight: Sight): Record<string, string[]> {
  const found: Record<string, string[]> = {}
  for (const gift of listGifts(sight)) {
    if (gift.partId !== null || gift.arrivedAt === null || !isThing(gift)) continue
    found[gift.donorId] = [...(found[gift.donorId] ?? []), gift.words]
  }
  return found
}
