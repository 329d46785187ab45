import { createHash } from 'node:crypto'
import canonicalize from 'canonicalize'
import type { z } from 'zod'
import { csvFile, type SavedFile } from '#kernel/csv'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { CHECKLIST_COLUMNS } from './checklist.rules'
import type { Flaw, reviseIn, rowsIn } from './design.contract'
import { getDesign, type WholeDesign } from './designs.service'
import * as store from './designs.store'
import { readDraft } from './draft.rules'
import { FEEDS_COLUMNS } from './feeds.rules'
import { readListTable } from './list-table.rules'
import { withMissingColumns } from './missing-columns.rules'
import { saidBeyondNames } from './stage-kinds.rules'
import { acceptSubstitute, substitutesOf } from './substitutes.service'
import { type Cells, cellsOf, feedCells } from './written.rules'

/** The parts list of a design as the lists are held against each other: it stays as it is from revision to revision. */
export const keptParts = ({ lines, positions }: WholeDesign) =>
  lines.map((row) => ({
    line: row.line,
    blocks: positions.find(({ lineId }) => lineId === row.id)?.blocks ?? [],
    fittedAfter: row.fittedAfter,
  }))

/** Stores a new revision with this checklist and these blocks, and the parts list of the one it was written from. */
export function reviseDesign(turn: Turn, actor: Actor, input: z.output<typeof reviseIn>): { designId: string } {
  const from = getDesign(turn, input.fromDesignId)
  if (store.findRevision(turn.db, from.key, input.revision)) {
    throw Refusal.at('revision', `There is a revision ${input.revision} of ${from.name} already. Choose another.`, 'conflict')
  }
  const { checks, feeds, blocks, flaws } = readDraft(input, keptParts(from))
  const first = flaws[0]
  if (first) {
    const count = flaws.length === 1 ? 'One thing is' : `${flaws.length} things are`
    throw new Refusal('bad-input', `${count} to be corrected; nothing was stored. ${first.words}`, fieldsOf(flaws))
  }
  const { revision, decisionRule, quirks, cautions } = input
  const kept = { name: from.name, decisionRule, quirks, cautions }
  const id = turn.dice.id()
  const digest = digestOf({ ...kept, checks: checks.map(saidBeyondNames), feeds, blocks, partsOf: from.digest })
  store.insertDesign(turn.db, { id, key: from.key, ...kept, revision, digest, at: turn.now, byPersonId: actor.personId })
  const ids = new Map(from.lines.map((line) => [line.id, turn.dice.id()]))
  store.insertLists(turn.db, id, {
    lines: from.lines.map(({ part: _part, designators: _designators, ...line }) => ({ ...line, id: ids.get(line.id) ?? '', designId: id })),
    positions: from.positions.map(({ isProgrammed: _programmed, lineId, ...row }) => ({
      ...row,
      designId: id,
      lineId: ids.get(lineId) ?? '',
    })),
    leftEmpty: from.leftEmpty.flatMap(({ designators, part, ...row }) =>
      designators.map((designator) => ({ ...row, designId: id, designator, partId: part.id })),
    ),
    blocks,
    feeds,
    checks,
  })
  for (const [lineId, list] of substitutesOf(turn, from.id)) {
    for (const { part, reason } of list) acceptSubstitute(turn, actor, { lineId: ids.get(lineId) ?? '', partId: part.id, reason })
  }
  turn.record({ kind: 'design.revised', subject: `design:${from.key}`, body: { designId: id, from: from.revision, revision, digest } })
  return { designId: id }
}

const digestOf = (content: object) =>
  createHash('sha256')
    .update(canonicalize(content) ?? '')
    .digest('hex')

/** At each cell that is to blame its own words: `checklist.3.lower` is the fourth row. */
const fieldsOf = (flaws: readonly Flaw[]) =>
  Object.fromEntries(flaws.map(({ list, line, column, words }) => [line > 0 ? `${list}.${line - 1}.${column}` : list, words]))

/** The checklist and the blocks of a design as files that an import takes back unchanged. */
export function sheetsOf(sight: Sight, id: string): { checklist: SavedFile; feeds: SavedFile } {
  const { key, revision, checks, blocks, feeds } = getDesign(sight, id)
  const name = (what: string) => `${key}-${revision.replaceAll(/[^A-Za-z0-9.]+/g, '-')}-${what}.csv`
  const file = (what: string, columns: readonly { name: string }[], rows: readonly Cells[]) => {
    const head = columns.map((one) => one.name)
    return csvFile(
      name(what),
      head,
      rows.map((row) => head.map((column) => row[column] ?? '')),
    )
  }
  return {
    checklist: file(
      'checklist',
      // Each limit has a column of its own here.
      CHECKLIST_COLUMNS.filter(({ name }) => name !== 'limits'),
      checks.map(cellsOf),
    ),
    feeds: file('feeds', FEEDS_COLUMNS, feedCells(blocks, feeds)),
  }
}

/** The rows of a list from a file or from pasted text, for the editor; what is wrong with the cells it says itself. */
export function readRows({ list, sheet }: z.output<typeof rowsIn>): Cells[] {
  const source = sheet.base64 === undefined ? (sheet.text ?? '') : new Uint8Array(Buffer.from(sheet.base64, 'base64'))
  const { table, flaws } = readListTable(list, source, list === 'checklist' ? CHECKLIST_COLUMNS : FEEDS_COLUMNS)
  const first = flaws[0]
  if (first) throw Refusal.at('sheet', `${first.line > 0 ? `Line ${first.line}: ` : ''}${first.words}`)
  if (list === 'feeds') return table.rows.map(({ cells }) => cells)
  const has = new Set(table.columns.flatMap(({ column }) => column ?? []))
  return withMissingColumns(table.rows, has, '', () => {}).rows.map(({ cells: { limits: _limits, ...cells } }) => cells)
}
