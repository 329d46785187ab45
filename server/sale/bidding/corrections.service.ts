import type { Actor, Turn } from '#runtime/queue/turn'
import { applyCommand } from '../bids/lot-command.service'
import { loadOpenedLot } from '../bids/lot-state.service'
import { certificateWords } from '../history/leaf-words.rules'
import { tellOfCorrection } from '../letters/letters.service'
import type { NamedCertificate } from '../lots/lots.contract'
import { findLotOfUnit } from '../lots/lots.service'

/** A correction to the description of an open lot: part of the history, and its bidders are told. The terms stay as they were fixed. */
export function correctDescription(turn: Turn, actor: Actor, input: { lot: number; words: string }): void {
  const lot = loadOpenedLot(turn, input.lot)
  const corrections = [...lot.row.corrections, { at: turn.now, words: input.words }]
  const { row } = applyCommand(turn, lot, { command: { kind: 'correct', words: input.words }, by: actor.role, also: { corrections } })
  tellOfCorrection(turn, row, input.words)
}

/**
 * The certificate that the terms of a unit's running lot name, or that took its place since, has ended or is followed by
 * another: an entry of the history by nobody but the rule. Nothing happens where the lot names another, or does not run.
 */
export function noteNamedCertificate(turn: Turn, unitId: string, certificate: NamedCertificate, reason = ''): void {
  const found = findLotOfUnit(turn, unitId)
  if (found?.soldWhere !== 'here' || (found.state !== 'open' && found.state !== 'held')) return
  const lot = loadOpenedLot(turn, found.number)
  const followed = lot.row.corrections.findLast((one) => one.certificate?.by)?.certificate?.by
  if ((followed ?? lot.row.terms?.sale.certificate) !== certificate.serial) return
  const words = certificateWords(certificate, reason)
  const corrections = [...lot.row.corrections, { at: turn.now, words, certificate }]
  const { row } = applyCommand(turn, lot, { command: { kind: 'correct', words, certificate }, by: 'rule', also: { corrections } })
  // A withdrawal puts an open lot on hold, and the letter that says so gives the reason.
  if (certificate.by !== null || found.state === 'held') tellOfCorrection(turn, row, words)
}
