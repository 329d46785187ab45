import { bytesToHex } from '@noble/hashes/utils.js'
import { currentCertificate } from '#bench/certificates/standing.service'
import { invariant } from '#kernel/invariant'
import { parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Turn } from '#runtime/queue/turn'
import * as store from '../bids/bids.store'
import { openedLeaf } from '../history/leaves.rules'
import { NONCE_BYTES } from '../history/ledger.rules'
import { appendLeaves, houseName } from '../history/ledger.service'
import { ladderFor } from '../lots/ladder.service'
import { hammerFell } from '../lots/hammer.contract'
import type { LotTerms } from '../lots/lots.contract'
import { changeLot, getExtras, getLotRow, getPostage, type LotRow } from '../lots/lots.service'
import { gateOf } from '../lots/prepare.service'

/** Opens a lot: refused while anything is missing; from here on its terms are fixed. */
export function openLot(turn: Turn, _actor: Actor, input: { lot: number }): LotRow {
  const row = getLotRow(turn, input.lot)
  if (row.state !== 'draft' && row.state !== 'ready') throw new Refusal('conflict', 'This lot was opened already.')
  if (store.findStandingHold(turn.db)) throw new Refusal('on-hold', 'All clocks are stopped. Open it once they go on.')
  const missing = gateOf(turn, row)
  if (missing.length > 0) {
    const fields = Object.fromEntries(missing.map(({ what, words }) => [what, words]))
    throw new Refusal('gate-closed', `This lot cannot open yet: ${missing.map(({ words }) => words).join(' ')}`, fields)
  }
  const terms = termsOf(turn, row)
  const opened = { state: 'open', openedAt: turn.now, terms } as const
  const change = { ...opened, ...(row.soldWhere === 'here' && beginLedger(turn, { ...row, ...opened })) }
  changeLot(turn, row.id, change)
  turn.record({
    kind: 'lot.opened',
    subject: `lot:${row.number}`,
    body: { number: row.number, unit: row.unitTag, openingMinor: terms.openingMinor, closesAt: row.closesAt },
  })
  return { ...row, ...change }
}

function beginLedger(turn: Turn, row: LotRow): Partial<LotRow> {
  const { terms, closesAt } = row
  invariant(terms && closesAt !== null, 'a lot opens with its terms and its closing')
  const { currency, openingMinor, ladder, reserveMinor, sale } = terms
  const secret = reserveMinor === null ? null : { amountMinor: reserveMinor, nonce: bytesToHex(turn.dice.bytes(NONCE_BYTES)) }
  if (secret) store.insertReserveSecret(turn.db, { lotId: row.id, ...secret })
  const open = { currency, openingMinor, ladder: [...ladder], hasReserve: secret !== null, sale: JSON.parse(JSON.stringify(sale)) }
  return appendLeaves(turn, row, [openedLeaf(row.number, { kind: 'opened', at: turn.now, closesAt }, open, secret)]).kept
}

function termsOf(turn: Turn, row: LotRow): LotTerms {
  const campaign = getCampaign(turn)
  const { openingMinor, weightGrams, lengthMm, widthMm, heightMm } = row
  invariant(
    openingMinor !== null && weightGrams !== null && lengthMm !== null && widthMm !== null && heightMm !== null,
    'the gate saw to it',
  )
  return {
    currency: campaign.currency,
    openingMinor,
    reserveMinor: row.reserveMinor,
    ladder: ladderFor(turn, row, campaign.currency),
    origin: `${houseName(turn.publicUrl)}/lots/${row.number}`,
    sale: {
      title: row.title,
      story: row.story,
      unit: row.unitTag,
      certificate: currentCertificate(turn, row.unitId)?.serial ?? '',
      extras: getExtras(turn, row.id),
      cause: campaign.causeName,
      causeRegistration: campaign.causeRegistration,
      causeShareBp: campaign.causeShareBp,
      seller: campaign.sellerName,
      sellerKind: campaign.sellerKind,
      cancelWords: campaign.cancelWords,
      postage: getPostage(turn, row.id),
      weightGrams,
      sizeMm: [lengthMm, widthMm, heightMm],
    },
  }
}

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
