import { createHash } from 'node:crypto'
import canonicalize from 'canonicalize'
import type { z } from 'zod'
import { Refusal } from '../kernel/refusal'
import { partIn } from '../parts/part.contract'
import { findOrAddPart, type PartCard, partsById } from '../parts/part.service'
import type { Actor, Sight, Turn } from '../runtime/turn'
import { isBeingBuilt } from '../units/built.service'
import type { Check, designIn, Feed, Flaw, Position } from './design.contract'
import * as store from './designs.store'
import { type DesignDraft, type ImportReading, readImport } from './import.rules'

type Input = z.output<typeof designIn>

export interface WholeDesign extends store.DesignRow {
  checks: Check[]
  feeds: Feed[]
  blocks: string[]
  positions: (Position & { lineId: string })[]
  lines: (store.PartsLineRow & { part: PartCard; designators: string[] })[]
}

export interface Imported {
  designId: string
  /** `unchanged`: the same content was there already and nothing was written. */
  outcome: 'stored' | 'replaced' | 'unchanged'
}

/** What an import would read, row by row, and what is wrong with it. Stores nothing. */
export const previewImport = (input: Pick<Input, 'checklist' | 'partsList' | 'feeds'>): Omit<ImportReading, 'draft'> => {
  const { sheets, flaws } = readImport(sourcesOf(input))
  return { sheets, flaws }
}

/**
 * Stores a design from its three lists, or nothing. The same content again changes nothing. A revision to
 * which units are being built cannot change: their readings were judged by it.
 */
export function importDesign(turn: Turn, actor: Actor, input: Input): Imported {
  const { flaws, draft } = readImport(sourcesOf(input))
  if (flaws.length > 0) throw refusalFor(flaws)
  const digest = digestOf(input, draft)
  const before = store.findRevision(turn.db, input.key, input.revision)
  if (before?.digest === digest) return { designId: before.id, outcome: 'unchanged' }
  if (before && isBeingBuilt(turn, before.id)) {
    const words = `Units are being built to ${before.name} revision ${before.revision}. Give the changed lists a new revision.`
    throw Refusal.at('revision', words, 'conflict')
  }
  const { key, name, revision, decisionRule, quirks, cautions } = input
  const id = before?.id ?? turn.dice.id()
  const row = { id, key, name, revision, decisionRule, quirks, cautions, digest, at: turn.now, byPersonId: actor.personId }
  if (before) {
    store.clearLists(turn.db, id)
    store.updateDesign(turn.db, row)
  } else store.insertDesign(turn.db, row)
  store.insertLists(turn.db, id, rowsOf(turn, id, draft))
  const outcome = before ? 'replaced' : 'stored'
  turn.record({ kind: `design.${outcome}`, subject: `design:${key}`, body: { designId: id, name, revision, digest } })
  return { designId: id, outcome }
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
  const parts = partsById(
    sight,
    lines.map(({ partId }) => partId),
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
  }
}

export const listDesigns = (sight: Sight) =>
  store.allDesignRows(sight.db).map((row) => ({
    ...row,
    positions: store.positionsOf(sight.db, row.id).length,
    checks: store.checksOf(sight.db, row.id).length,
  }))

const sourceOf = ({ base64, text }: Input['checklist']): Uint8Array | string =>
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
  return new Refusal('bad-input', `${count} to be mended; nothing was stored. ${where}: ${first?.words ?? ''}`, Object.fromEntries(fields))
}

/** Of what the lists say, not of how they are written: another delimiter is the same design. */
function digestOf({ name, decisionRule, quirks, cautions }: Input, { checks, lines, feeds, blocks }: DesignDraft): string {
  const said = lines.map(({ line: _line, understood: _understood, ...rest }) => rest)
  const content = canonicalize({ name, decisionRule, quirks, cautions, checks, lines: said, feeds, blocks }) ?? ''
  return createHash('sha256').update(content).digest('hex')
}

function rowsOf(turn: Turn, designId: string, draft: DesignDraft): store.ListRows {
  const lines: store.ListRows['lines'] = []
  const positions: store.ListRows['positions'] = []
  for (const [index, line] of draft.lines.entries()) {
    const { part } = findOrAddPart(turn, partIn.parse(line.part))
    const id = turn.dice.id()
    const { fittedAfter, notes, quantity, blocks } = line
    lines.push({ id, designId, line: index + 1, partId: part.id, quantity, fittedAfter, notes })
    for (const designator of line.designators) positions.push({ designId, designator, partId: part.id, lineId: id, blocks, fittedAfter })
  }
  return { lines, positions, blocks: draft.blocks, feeds: draft.feeds, checks: draft.checks }
}
