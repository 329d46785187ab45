import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import type { designIn, partsListIn } from './design.contract'
import { getDesign, partsListFile } from './designs.service'
import * as store from './designs.store'
import { refusalFor } from './import-refusal.rules'
import type { ListReader } from './list-reader'
import { type ListOrder, type ListsRead, readLists } from './list-reading'
import { sourceOf } from './list-source.rules'
import { keepLists, knowParts, type PartIds, partsNamed } from './lists.service'

type Input = z.output<typeof designIn>
type PartsInput = z.output<typeof partsListIn>
type Preview = Pick<ListsRead, 'sheets' | 'flaws'>

/** What an import needs of the house: it is read on another thread, and stored in several turns. */
export interface Importing {
  listReader: ListReader
  sight(): Sight
  command<T>(work: (turn: Turn) => T): Promise<T>
}

export interface Imported {
  designId: string
  /** `unchanged`: the same content was there already and nothing was written. */
  outcome: 'stored' | 'replaced' | 'unchanged'
}

/** What an import would read, row by row, and what is wrong with it. Stores nothing. */
export async function previewImport(house: Pick<Importing, 'listReader'>, input: Pick<Input, ListName>): Promise<Preview> {
  const { sheets, flaws } = await house.listReader.make({ sources: sourcesOf(input), choices: choicesOf(input) })
  return { sheets, flaws }
}

/** What an import of a parts list alone would read. Stores nothing. */
export async function previewPartsList(house: Omit<Importing, 'command'>, input: PartsInput): Promise<Preview> {
  const { sheets, flaws } = await house.listReader.make(orderOfParts(house.sight(), input))
  return { sheets, flaws }
}

/**
 * Stores a design from its three lists, or nothing. The same content again changes nothing. A revision to
 * which units are being built cannot change: their readings were judged by it.
 */
export const importDesign = (house: Importing, actor: Actor, input: Input): Promise<Imported> =>
  storeRead(house, actor, input, orderOf(input))

/** A new parts list for a design that is there, in its place or as a new revision with the same checklist and feeds. */
export function importPartsList(house: Importing, actor: Actor, input: PartsInput): Promise<Imported> {
  const design = getDesign(house.sight(), input.designId)
  const names = { ...design, revision: input.revision || design.revision }
  return storeRead(house, actor, names, { ...orderOfParts(house.sight(), input), said: names })
}

/** The same in one turn, for whoever waits for nobody: a demo that is being laid out. */
export function importAtOnce(turn: Turn, actor: Actor, input: Input): Imported {
  const whole = wholeOf(readLists(orderOf(input)))
  const before = store.findRevision(turn.db, input.key, input.revision)
  const asExported = before && before.digest !== whole.digest ? readLists(orderAsExported(turn, before)).whole?.digest : undefined
  return keepDraft(turn, actor, input, { ...whole, ...(before && { seen: { digest: before.digest, asExported } }) })
}

/** So many parts get into the catalogue in one turn: bids come in between. */
const PARTS_AT_ONCE = 15

/** Parts come first, a few in each turn; what is the design's own is stored in one turn then, or none of it. */
async function storeRead(house: Importing, actor: Actor, names: Names, order: ListOrder): Promise<Imported> {
  const whole = wholeOf(await house.listReader.make(order))
  const before = store.findRevision(house.sight().db, names.key, names.revision)
  let seen: Seen | undefined
  if (before) {
    const read = before.digest === whole.digest ? null : await house.listReader.make(orderAsExported(house.sight(), before))
    seen = { digest: before.digest, asExported: read?.whole?.digest }
    if (isSame(seen, whole.digest)) return { designId: before.id, outcome: 'unchanged' }
    mustNotBeBuiltTo(house.sight(), before)
  }
  const partIds: PartIds = new Map()
  const parts = partsNamed(whole.draft)
  for (let from = 0; from < parts.length; from += PARTS_AT_ONCE) {
    await house.command((turn) => knowParts(turn, parts.slice(from, from + PARTS_AT_ONCE), partIds))
  }
  return house.command((turn) => keepDraft(turn, actor, names, { ...whole, partIds, ...(seen && { seen }) }))
}

type Names = Pick<store.DesignRow, 'key' | 'name' | 'revision' | 'decisionRule' | 'quirks' | 'cautions'>

/** The digest of a revision that is there, and the one that it would have if it were exported and read again. */
interface Seen {
  digest: string
  asExported: string | undefined
}

const isSame = (seen: Seen, digest: string) => seen.digest === digest || seen.asExported === digest

interface ToKeep extends Whole {
  partIds?: PartIds
  seen?: Seen
}

function keepDraft(turn: Turn, actor: Actor, names: Names, { draft, digest, seen, partIds = new Map() }: ToKeep): Imported {
  const { key, name, revision, decisionRule, quirks, cautions } = names
  const before = store.findRevision(turn.db, key, revision)
  if (before && (before.digest === digest || (seen?.digest === before.digest && isSame(seen, digest))))
    return { designId: before.id, outcome: 'unchanged' }
  if (before) mustNotBeBuiltTo(turn, before)
  const id = before?.id ?? turn.dice.id()
  const row = { id, key, name, revision, decisionRule, quirks, cautions, digest, at: turn.now, byPersonId: actor.personId }
  if (before) {
    store.clearLists(turn.db, id)
    store.updateDesign(turn.db, row)
  } else store.insertDesign(turn.db, row)
  keepLists(turn, actor, id, draft, partIds)
  const outcome = before ? 'replaced' : 'stored'
  turn.record({ kind: `design.${outcome}`, subject: `design:${key}`, body: { designId: id, name, revision, digest } })
  return { designId: id, outcome }
}

function mustNotBeBuiltTo(sight: Sight, before: store.DesignRow): void {
  if (!store.isBuiltTo(sight.db, before.id)) return
  const words = `Units are already being built to ${before.name} revision ${before.revision}. Give the changed lists a new revision.`
  throw Refusal.at('revision', words, 'conflict')
}

type Whole = NonNullable<ListsRead['whole']>

function wholeOf({ flaws, whole }: ListsRead): Whole {
  if (whole === null) throw refusalFor(flaws)
  return whole
}

const orderOf = (input: Input): ListOrder => ({ sources: sourcesOf(input), choices: choicesOf(input), said: input })

function orderOfParts(sight: Sight, { designId, partsList }: PartsInput): ListOrder {
  const { checks, feeds, blocks } = getDesign(sight, designId)
  return { sources: { partsList: sourceOf(partsList), of: { checks, feeds, blocks } }, choices: { partsList } }
}

/** A revision as it would be exported: with the substitutes that were accepted since. */
function orderAsExported(sight: Sight, row: store.DesignRow): ListOrder {
  const { checks, feeds, blocks } = getDesign(sight, row.id)
  return { sources: { partsList: partsListFile(sight, row.id).text, of: { checks, feeds, blocks } }, choices: {}, said: row }
}

type ListName = 'checklist' | 'partsList' | 'feeds'

const sourcesOf = ({ checklist, partsList, feeds }: Pick<Input, ListName>) => ({
  checklist: sourceOf(checklist),
  partsList: sourceOf(partsList),
  feeds: sourceOf(feeds),
})

/** How each list is to be read; what it holds goes to the other thread once. */
const choicesOf = ({ checklist, partsList, feeds }: Pick<Input, ListName>) => ({
  checklist: choiceOf(checklist),
  partsList: choiceOf(partsList),
  feeds: choiceOf(feeds),
})
const choiceOf = <List extends Input['checklist']>({ base64: _base64, text: _text, ...choice }: List) => choice
