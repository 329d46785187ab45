import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import type { Sight, Turn } from '#runtime/queue/turn'
import type { PartRow, partIn } from './part.contract'
import { partWords, readPart } from './part.rules'
import { allPartRows, findPartLike, findPartRow, insertPart, partRows } from './part.store'

/** A catalogue entry with the words by which it is called. */
export interface PartCard extends PartRow {
  words: string
}

export interface PartAdded {
  part: PartCard
  isNew: boolean
  /** A question worth asking, such as "4k8 is in no series up to E96; 4k7?". */
  hint: string | null
}

/** The entry for this part: the one there is, however it was written, or a new one. Refuses a value that cannot be read. */
export function findOrAddPart(turn: Turn, input: z.output<typeof partIn>): PartAdded {
  const reading = readPart(input)
  if (!reading.ok) throw Refusal.at(reading.field, reading.words)
  const hint = reading.hint ?? null
  const known = findPartLike(turn.db, reading.sameness)
  if (known) return { part: cardOf(known), isNew: false, hint }
  const row = {
    id: turn.dice.id(),
    ...input,
    value: reading.value,
    imageSha256: input.imageSha256 ?? null,
    idcode: input.idcode ?? null,
    sameness: reading.sameness,
    at: turn.now,
  }
  insertPart(turn.db, row)
  turn.record({ kind: 'part.added', subject: `part:${row.id}`, body: { partId: row.id, words: partWords(row) } })
  return { part: cardOf(row), isNew: true, hint }
}

export function getPart(sight: Sight, partId: string): PartCard {
  const row = findPartRow(sight.db, partId)
  if (!row) throw new Refusal('not-found', 'There is no such part in the catalogue.')
  return cardOf(row)
}

export const listParts = (sight: Sight): PartCard[] => allPartRows(sight.db).map(cardOf)

export function partsById(sight: Sight, partIds: readonly string[]): Map<string, PartCard> {
  return new Map(partRows(sight.db, [...new Set(partIds)]).map((row) => [row.id, cardOf(row)]))
}

function cardOf({ sameness: _sameness, at: _at, ...row }: PartRow & { sameness: string; at: number }): PartCard {
  return { ...row, words: partWords(row) }
}
