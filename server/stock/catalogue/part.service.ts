import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import type { Sight, Turn } from '#runtime/queue/turn'
import { isFromBefore } from './identity.rules'
import type { PartKind, PartRow, partIn } from './part.contract'
import { partWords, readPart, standsIn, unitOfKind } from './part.rules'
import { allPartRows, findPartLike, findPartRow, insertPart, partRows, partRowsFromBefore, updatePart } from './part.store'
import { valueApart } from './value-apart.rules'

/** A catalogue entry with the words by which it is called. */
export interface PartCard extends PartRow {
  words: string
  /** Made when a part was known by less: what lies under it may be of several. */
  isFromBefore: boolean
}

export interface PartAdded {
  part: PartCard
  isNew: boolean
  /** A question worth asking, such as "4k8 is in no series up to E96; 4k7?". */
  hint: string | null
}

/** The entry for this part: the one there is, however it was written, or a new one. Refuses a value that cannot be read. */
export function findOrAddPart(turn: Turn, written: z.output<typeof partIn>): PartAdded {
  const apart = valueApart(written)
  if (!apart.ok) throw Refusal.at(apart.field, apart.words)
  const input = { ...written, name: apart.part.name, package: apart.part.package ?? '', rating: apart.part.rating ?? '' }
  const reading = readPart({ ...input, value: apart.part.value })
  if (!reading.ok) throw Refusal.at(reading.field, reading.words)
  const hint = apart.hints.length > 0 ? apart.hints.join(' ') : null
  const known = findPartLike(turn.db, reading.sameness) ?? knownFromBefore(turn, input.kind, reading.sameness)
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

/** An entry made by the earlier rule that says the same by this one. Which of two that it once took for one it is, its own words say. */
const knownFromBefore = (turn: Turn, kind: PartKind, sameness: string) =>
  partRowsFromBefore(turn.db, kind).find((row) => keyNow(row) === sameness)

function keyNow(row: PartRow): string | null {
  const { imageSha256: _image, idcode: _code, ...written } = row
  const reading = readPart(written)
  return reading.ok ? reading.sameness : null
}

/** Somebody has looked: all that lies under an entry from before is this one part, as its words say it. */
export function isOnePart(turn: Turn, partId: string): PartCard {
  const part = getPart(turn, partId)
  const key = keyNow(part)
  if (!part.isFromBefore || key === null) return part
  const twin = findPartLike(turn.db, key)
  if (twin) throw Refusal.at('partId', `${twin.name} is in the catalogue as the same part already. Move its batches there.`, 'conflict')
  updatePart(turn.db, partId, { sameness: key })
  turn.record({ kind: 'part.known', subject: `part:${partId}`, body: { partId, words: part.words } })
  return getPart(turn, partId)
}

export function getPart(sight: Sight, partId: string): PartCard {
  const row = findPartRow(sight.db, partId)
  if (!row) throw new Refusal('not-found', 'There is no such part in the catalogue.')
  return cardOf(row)
}

/** Whether a part may stand in for another by its figures, and with what difference; null where it may not. */
export const standsInFor = (wanted: PartCard, other: PartCard): string | null => standsIn(bare(wanted), bare(other))

const bare = ({ kind, name, value, package: size, rating, programmed }: PartCard) => ({
  kind,
  name,
  value,
  package: size,
  rating,
  programmed,
})

export const listParts = (sight: Sight): PartCard[] => allPartRows(sight.db).map(cardOf)

export function partsById(sight: Sight, partIds: readonly string[]): Map<string, PartCard> {
  return new Map(partRows(sight.db, [...new Set(partIds)]).map((row) => [row.id, cardOf(row)]))
}

/** Only where a value is a measure did the earlier rule pass over the name, and over the case of a prefix. */
function cardOf({ sameness, at: _at, ...row }: PartRow & { sameness: string; at: number }): PartCard {
  return { ...row, words: partWords(row), isFromBefore: isFromBefore(sameness) && row.value !== '' && unitOfKind(row.kind) !== undefined }
}
