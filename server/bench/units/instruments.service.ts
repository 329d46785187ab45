import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { readAccuracy } from './accuracy.rules'
import { readingsBy } from './bench.store'
import { loadUnit } from './unit-state.service'
import type { instrumentIn } from './units.contract'
import * as store from './units.store'

export interface InstrumentSheet extends InstrumentCard {
  readings: (Omit<ReturnType<typeof readingsBy>[number], 'byPersonId'> & { by: string; stands: boolean })[]
  /** Units with readings of it, and how many of those stand. */
  units: { tag: string; stands: number; overdue: number }[]
}

export interface InstrumentCard extends store.InstrumentRow {
  isOverdue: boolean
}

/** Adds an instrument, or changes one by its id: name, accuracy as its maker writes it, when it was checked, when that is due again. */
export function saveInstrument(turn: Turn, _actor: Actor, input: z.output<typeof instrumentIn>): InstrumentCard {
  const accuracy = readAccuracy(input.accuracy)
  if (!accuracy.ok) throw Refusal.at('accuracy', accuracy.words)
  const checkedAt = dayIn(input.checkedOn, 'checkedOn')
  const dueAt = dayIn(input.dueOn, 'dueOn')
  if (checkedAt > turn.now) throw Refusal.at('checkedOn', 'That day is still to come. Write the day it was last checked.')
  if (dueAt <= checkedAt) throw Refusal.at('dueOn', 'It would fall due before it was checked. Write a later day.')
  const named = store.findInstrumentByName(turn.db, input.name)
  if (named && named.id !== input.id) throw Refusal.at('name', `There is already an instrument called ${input.name}.`, 'conflict')
  const before = input.id === undefined ? undefined : store.findInstrumentRow(turn.db, input.id)
  if (input.id !== undefined && !before) throw Refusal.at('id', 'There is no such instrument.', 'not-found')
  const row = {
    id: before?.id ?? turn.dice.id(),
    name: input.name,
    accuracy: input.accuracy,
    checkedAt,
    dueAt,
    checkedBy: input.checkedBy ?? '',
    checkedAgainst: input.checkedAgainst ?? '',
  }
  if (before) store.updateInstrument(turn.db, row)
  else store.insertInstrument(turn.db, row)
  turn.record({ kind: before ? 'instrument.changed' : 'instrument.added', subject: `instrument:${row.name}`, body: { ...row } })
  return cardOf(turn, row)
}

export const listInstruments = (sight: Sight): InstrumentCard[] => store.allInstrumentRows(sight.db).map((row) => cardOf(sight, row))

/** What a reading keeps of its instrument, which may be checked anew or changed later. */
export const asItIs = ({ name, accuracy, checkedAt, dueAt }: InstrumentCard) => ({ name, accuracy, checkedAt, dueAt })

export function getInstrument(sight: Sight, id: string): InstrumentCard {
  const row = store.findInstrumentRow(sight.db, id)
  if (!row) throw Refusal.at('instrumentId', 'There is no such instrument. Choose one from the list.', 'not-found')
  return cardOf(sight, row)
}

/** Everything that was read with an instrument, the latest first, and the certificates that rest on it. */
export function instrumentSheet(sight: Sight, id: string): InstrumentSheet {
  const card = getInstrument(sight, id)
  const rows = readingsBy(sight.db, id)
  const people = store.peopleById(
    sight.db,
    rows.map(({ byPersonId }) => byPersonId),
  )
  const tags = [...new Set(rows.map(({ tag }) => tag))]
  const standing = new Set(
    tags.flatMap((tag) => [...loadUnit(sight, tag).standing.states.values()].flatMap(({ current }) => current ?? [])),
  )
  return {
    ...card,
    readings: rows.map(({ byPersonId, ...row }) => ({ ...row, by: people.get(byPersonId)?.name ?? '', stands: standing.has(row.id) })),
    units: tags.sort().map((tag) => ({
      tag,
      stands: rows.filter((row) => row.tag === tag && standing.has(row.id)).length,
      overdue: rows.filter((row) => row.tag === tag && standing.has(row.id) && row.isOverdue).length,
    })),
  }
}

const cardOf = (sight: Sight, row: store.InstrumentRow): InstrumentCard => ({ ...row, isOverdue: row.dueAt < sight.now })

/** The begin of that day in UTC; a calibration day needs no zone. */
function dayIn(text: string, field: string): number {
  const at = Date.parse(`${text}T00:00:00Z`)
  if (Number.isNaN(at) || new Date(at).toISOString().slice(0, 10) !== text) throw Refusal.at(field, `There is no day ${text}.`)
  return at
}
