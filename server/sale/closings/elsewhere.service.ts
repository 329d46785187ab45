import { parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import type { Actor, Turn } from '#runtime/queue/turn'
import { hammerFell } from '../lots/hammer.contract'
import { changeLot, getLotRow, type LotRow } from '../lots/lots.service'

/** The result of a lot that was sold elsewhere, entered by hand once its closing has come; an empty amount means unsold. */
export function enterElsewhereResult(turn: Turn, actor: Actor, input: { lot: number; hammer: string; source: string }): LotRow {
  const row = getLotRow(turn, input.lot)
  if (row.soldWhere !== 'elsewhere' || row.state !== 'open' || !row.terms)
    throw new Refusal('conflict', 'There is no result to enter for this lot.')
  if (turn.now < (row.closesAt ?? 0)) throw new Refusal('too-early', 'It has not closed yet.')
  const hammerMinor = input.hammer.trim() === '' ? null : parseMoney(input.hammer, row.terms.currency, 'hammer')
  if (hammerMinor === 0) throw Refusal.at('hammer', 'Write what it was sold for, or leave it empty if it was not sold.')
  const change = {
    state: hammerMinor === null ? 'unsold' : 'sold',
    hammerMinor,
    endedAt: row.closesAt,
    resultSource: input.source,
  } as const
  changeLot(turn, row.id, change)
  if (hammerMinor !== null)
    turn.record(hammerFell({ lotId: row.id, number: row.number, hammerMinor, postageMinor: 0, winnerPersonId: null }))
  turn.record({
    kind: 'lot.closed',
    subject: `lot:${row.number}`,
    body: { number: row.number, unit: row.unitTag, result: change.state, hammerMinor, enteredBy: actor.role, source: input.source },
  })
  return { ...row, ...change }
}
