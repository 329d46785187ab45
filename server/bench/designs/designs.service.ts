import { createHash } from 'node:crypto'
import canonicalize from 'canonicalize'
import type { z } from 'zod'
import { csvFile, type SavedFile } from '#kernel/csv'
import { groupBy } from '#kernel/group'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { type PartCard, partsById } from '#stock/catalogue/part.service'
import type { Check, designIn, Feed, Flaw, Position, partsListIn } from './design.contract'
import * as store from './designs.store'
import { type DesignDraft, type ImportReading, readImport, readPartsImport } from './import.rules'
import { keepLists } from './lists.service'
import { saidBeyondNames } from './stage-kinds.rules'
import { substitutesOf } from './substitutes.service'
import { PARTS_LIST_HEAD, partsListRow } from './write-parts-list.rules'

type Input = z.output<typeof designIn>

export interface WholeDesign extends store.DesignRow {
  checks: Check[]
  feeds: Feed[]
  blocks: string[]
  positions: (Position & { lineId: string })[]
  lines: (store.PartsLineRow & { part: PartCard; designators: string[] })[]
  /** Positions that stay empty, by the lines of the list. */
  leftEmpty: { line: number; part: PartCard; designators: string[]; blocks: string[]; notes: string }[]
}

export interface Imported {
  designId: string
  /** `unchanged`: the same content was there already and nothing was written. */
  outcome: 'stored' | 'replaced' | 'unchanged'
}

/** What an import would read, row by row, and what is wrong with it. Stores nothing. */
export const previewImport = (input: Pick<Input, 'checklist' | 'partsList' | 'feeds'>): Omit<ImportReading, 'draft'> => {
  const { sheets, flaws } = readImport(sourcesOf(input), input)
  return { sheets, flaws }
}

/**
 * Stores a design from its three lists, or nothing. The same content again changes nothing. A revision to
 * which units are being built cannot change: their readings were judged by it.
 */
export function importDesign(turn: Turn, actor: Actor, input: Input): Imported {
  const { flaws, draft } = readImport(sourcesOf(input), input)
  if (flaws.length > 0) throw refusalFor(flaws)
  return keepDraft(turn, actor, input, draft)
}

/** What an import of a parts list alone would read. Stores nothing. */
export function previewPartsList(sight: Sight, input: z.output<typeof partsListIn>): Omit<ImportReading, 'draft'> {
  const { sheet, flaws } = readPartsImport(sourceOf(input.partsList), getDesign(sight, input.designId), input.partsList)
  return { sheets: [sheet], flaws }
}

/** A new parts list for a design that is there, in its place or as a new revision with the same checklist and feeds. */
export function importPartsList(turn: Turn, actor: Actor, input: z.output<typeof partsListIn>): Imported {
  const design = getDesign(turn, input.designId)
  const { flaws, lines } = readPartsImport(sourceOf(input.partsList), design, input.partsList)
  if (flaws.length > 0) throw refusalFor(flaws)
  const { checks, feeds, blocks } = design
  return keepDraft(turn, actor, { ...design, revision: input.revision || design.revision }, { checks, feeds, blocks, lines })
}

type Names = Pick<store.DesignRow, 'key' | 'name' | 'revision' | 'decisionRule' | 'quirks' | 'cautions'>

function keepDraft(turn: Turn, actor: Actor, names: Names, draft: DesignDraft): Imported {
  const { key, name, revision, decisionRule, quirks, cautions } = names
  const digest = digestOf(names, draft)
  const before = store.findRevision(turn.db, key, revision)
  if (before && (before.digest === digest || digestAsExported(turn, before) === digest))
    return { designId: before.id, outcome: 'unchanged' }
  if (before && store.isBuiltTo(turn.db, before.id)) {
    const words = `Units are already being built to ${before.name} revision ${before.revision}. Give the changed lists a new revision.`
    throw Refusal.at('revision', words, 'conflict')
  }
  const id = before?.id ?? turn.dice.id()
  const row = { id, key, name, revision, decisionRule, quirks, cautions, digest, at: turn.now, byPersonId: actor.personId }
  if (before) {
    store.clearLists(turn.db, id)
    store.updateDesign(turn.db, row)
  } else store.insertDesign(turn.db, row)
  keepLists(turn, actor, id, draft)
  const outcome = before ? 'replaced' : 'stored'
  turn.record({ kind: `design.${outcome}`, subject: `design:${key}`, body: { designId: id, name, revision, digest } })
  return { designId: id, outcome }
}

/** The digest that the design would have if it were exported and read again: with the substitutes that were accepted since. */
function digestAsExported(sight: Sight, row: store.DesignRow): string {
  const { checks, feeds, blocks } = getDesign(sight, row.id)
  const { lines } = readPartsImport(partsListFile(sight, row.id).text, { checks, blocks })
  return digestOf(row, { checks, feeds, blocks, lines })
}

/** The parts list as a table that can be imported again, and changes nothing then. */
export function partsListFile(sight: Sight, designId: string): SavedFile {
  const design = getDesign(sight, designId)
  const accepted = substitutesOf(sight, designId)
  const rows = design.lines.map((line) => {
    const blocks = design.positions.find(({ lineId }) => lineId === line.id)?.blocks ?? []
    const substitutes = (accepted.get(line.id) ?? []).map(({ part }) => part)
    return partsListRow({ ...line, blocks, substitutes })
  })
  for (const { designators, ...empty } of design.leftEmpty) {
    rows.push(partsListRow({ ...empty, designators, quantity: designators.length, fittedAfter: null, notFitted: true, substitutes: [] }))
  }
  return csvFile(`${design.key}-${design.revision}-parts.csv`.replaceAll(/[^\w.-]+/g, '-'), PARTS_LIST_HEAD, rows)
}

// The lists of a design are what its digest says, so what was read once is good for as long as the digest is the same:
// every reading at the bench asks for it.
const known = new WeakMap<Sight['db'], Map<string, WholeDesign>>()

export function getDesign(sight: Sight, id: string): WholeDesign {
  const row = store.findDesignRow(sight.db, id)
  if (!row) throw new Refusal('not-found', 'There is no such design.')
  const kept = known.get(sight.db) ?? new Map<string, WholeDesign>()
  known.set(sight.db, kept)
  const before = kept.get(id)
  if (before && before.digest === row.digest) return before
  const whole = readWhole(sight, row)
  kept.set(id, whole)
  return whole
}

function readWhole(sight: Sight, row: store.DesignRow): WholeDesign {
  const { id } = row
  const lines = store.linesOf(sight.db, id)
  const positions = store.positionsOf(sight.db, id)
  const empty = store.leftEmptyOf(sight.db, id)
  const parts = partsById(
    sight,
    [...lines, ...empty].map(({ partId }) => partId),
  )
  return {
    ...row,
    checks: store.checksOf(sight.db, id),
    feeds: store.feedsOf(sight.db, id),
    blocks: store.blocksOf(sight.db, id),
    positions,
    lines: lines.flatMap((line) => {
      const part = parts.get(line.partId)
      const designators = positions.filter(({ lineId }) => lineId === line.id).map(({ designator }) => designator)
      return part ? [{ ...line, part, designators }] : []
    }),
    leftEmpty: [...groupBy(empty, ({ line }) => line)].flatMap(([line, rows]) => {
      const [first] = rows
      const part = first && parts.get(first.partId)
      if (!first || !part) return []
      return [{ line, part, designators: rows.map(({ designator }) => designator), blocks: first.blocks, notes: first.notes }]
    }),
  }
}

/** Every revision of a design, the oldest first. */
export const revisionsOf = (sight: Sight, key: string): store.DesignRow[] => store.revisionsOf(sight.db, key)

export const listDesigns = (sight: Sight) =>
  store.allDesignRows(sight.db).map((row) => ({
    ...row,
    positions: store.positionsOf(sight.db, row.id).length,
    checks: store.checksOf(sight.db, row.id).length,
  }))

export const sourceOf = ({ base64, text }: Input['checklist']): Uint8Array | string =>
  base64 === undefined ? (text ?? '') : new Uint8Array(Buffer.from(base64, 'base64'))

const sourcesOf = ({ checklist, partsList, feeds }: Pick<Input, 'checklist' | 'partsList' | 'feeds'>) => ({
  checklist: sourceOf(checklist),
  partsList: sourceOf(partsList),
  feeds: sourceOf(feeds),
})

const LIST_NAMES: Record<Flaw['list'], string> = { checklist: 'Checklist', partsList: 'Parts list', feeds: 'Feeds' }

/** One sentence at each list that is to blame, with its first three lines; the preview shows them all. */
function refusalFor(flaws: readonly Flaw[]): Refusal {
  const lists = [...new Set(flaws.map(({ list }) => list))]
  const fields = lists.map((list) => {
    const own = flaws.filter((flaw) => flaw.list === list)
    const said = own
      .slice(0, 3)
      .map(({ line, column, words }) => `${line > 0 ? `Line ${line}${column ? `, ${column}` : ''}: ` : ''}${words}`)
    return [list, own.length > 3 ? `${said.join(' ')} And ${own.length - 3} more.` : said.join(' ')] as const
  })
  const first = flaws[0]
  const where = first ? `${LIST_NAMES[first.list]}${first.line > 0 ? `, line ${first.line}` : ''}` : ''
  const count = flaws.length === 1 ? 'One thing is' : `${flaws.length} things are`
  return new Refusal(
    'bad-input',
    `${count} to be corrected; nothing was stored. ${where}: ${first?.words ?? ''}`,
    Object.fromEntries(fields),
  )
}

/** Of what the lists say, not of how they are written: another delimiter is the same design. */
function digestOf({ name, decisionRule, quirks, cautions }: Names, { checks, lines, feeds, blocks }: DesignDraft): string {
  const ordered = [...lines.filter(({ notFitted }) => !notFitted), ...lines.filter(({ notFitted }) => notFitted)]
  const said = ordered.map(({ line: _line, understood: _understood, hint: _hint, substitutes, notFitted, ...rest }) => {
    return { ...rest, ...(substitutes.length === 0 ? {} : { substitutes }), ...(notFitted ? { notFitted } : {}) }
  })
  const content =
    canonicalize({ name, decisionRule, quirks, cautions, checks: checks.map(saidBeyondNames), lines: said, feeds, blocks }) ?? ''
  return createHash('sha256').update(content).digest('hex')
}
