import type { Actor, Turn } from '#runtime/queue/turn'
import { applyCommand } from '../bids/lot-command.service'
import { loadOpenedLot } from '../bids/lot-state.service'
import { tellOfCorrection } from '../letters/letters.service'

/** A correction to the description of an open lot: part of the history, and its bidders are told. The terms stay as they were fixed. */
export function correctDescription(turn: Turn, actor: Actor, input: { lot: number; words: string }): void {
  const lot = loadOpenedLot(turn, input.lot)
  const corrections = [...lot.row.corrections, { at: turn.now, words: input.words }]
  const { row } = applyCommand(turn, lot, { command: { kind: 'correct', words: input.words }, by: actor.role, also: { corrections } })
  tellOfCorrection(turn, row, input.words)
}
