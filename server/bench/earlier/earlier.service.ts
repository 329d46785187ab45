import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import type { EarlierIn } from './earlier.contract'
import { byDesign, type EarlierDesign } from './earlier.rules'
import { deleteEarlier, type EarlierRow, earlierRows, insertEarlier } from './earlier.store'

export type EarlierMachine = Omit<EarlierRow, 'at' | 'byPersonId'>

/** Keeps a machine that was built before this house. It is in no run, has no lot, and nothing of it is counted as raised here. */
export function keepEarlier(turn: Turn, actor: Actor, machine: EarlierIn): void {
  const row: EarlierRow = { id: turn.dice.id(), ...machine, at: turn.now, byPersonId: actor.personId }
  insertEarlier(turn.db, row)
  turn.record({ kind: 'earlier-machine.kept', subject: `earlier-machine:${row.id}`, body: { id: row.id, design: row.design } })
}

export const listEarlier = (sight: Sight): EarlierMachine[] =>
  earlierRows(sight.db).map(({ at: _at, byPersonId: _by, ...machine }) => machine)

/** The machines from before, and what those of each design come to. */
export function readEarlier(sight: Sight): { machines: EarlierMachine[]; designs: EarlierDesign[] } {
  const machines = listEarlier(sight)
  return { machines, designs: byDesign(machines) }
}

/** One that was written down by mistake. */
export function forgetEarlier(turn: Turn, id: string): void {
  if (deleteEarlier(turn.db, id) === 0) throw new Refusal('not-found', 'There is no such machine. Reload the page.')
  turn.record({ kind: 'earlier-machine.forgotten', subject: `earlier-machine:${id}`, body: { id } })
}
