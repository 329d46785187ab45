import { currentCertificate } from '#bench/certificates/standing.service'
import { invariant } from '#kernel/invariant'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Turn } from '#runtime/queue/turn'
import { beginLedger, houseName } from '../history/ledger.service'
import { ladderFor } from '../lots/ladder.service'
import type { LotTerms } from '../lots/lots.contract'
import { changeLot, getExtras, getLotRow, getPhotographs, getPostage, type LotRow, lateBidOfCampaign } from '../lots/lots.service'
import { gateOf } from '../lots/prepare.service'
import { getRecordings } from '../lots/recordings.service'
import { findHoldOfAll } from './holds.service'

/** Opens a lot: refused while anything is missing; from here on its terms are fixed. */
export function openLot(turn: Turn, _actor: Actor, input: { lot: number }): LotRow {
  const row = getLotRow(turn, input.lot)
  if (row.state !== 'draft' && row.state !== 'ready') throw new Refusal('conflict', 'This lot is already open.')
  if (findHoldOfAll(turn)) throw new Refusal('on-hold', 'All clocks are stopped. Open it once they are running again.')
  const missing = gateOf(turn, row)
  if (missing.length > 0) {
    const fields = Object.fromEntries(missing.map(({ what, words }) => [what, words]))
    throw new Refusal('gate-closed', `This lot cannot open yet: ${missing.map(({ words }) => words).join(' ')}`, fields)
  }
  return openAsItIs(turn, row)
}

/** Opens a lot whatever its gate says: in the house only behind that, in a rehearsal whatever was invented for it. */
export function openAsItIs(turn: Turn, row: LotRow): LotRow {
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

/** Opens all of these, or none: what one of them lacks is said with its number. */
export function openLots(turn: Turn, actor: Actor, { lots }: { lots: readonly number[] }): { opened: number } {
  for (const lot of lots) {
    try {
      openLot(turn, actor, { lot })
    } catch (reason) {
      if (reason instanceof Refusal) throw new Refusal(reason.code, `Lot ${lot}: ${reason.message} None was opened.`)
      throw reason
    }
  }
  return { opened: lots.length }
}

function termsOf(turn: Turn, row: LotRow): LotTerms {
  const campaign = getCampaign(turn)
  const { openingMinor, weightGrams, lengthMm, widthMm, heightMm } = row
  const recordings = getRecordings(turn, row.id).map(({ sha, caption }) => ({ sha256: sha, caption }))
  invariant(
    openingMinor !== null && weightGrams !== null && lengthMm !== null && widthMm !== null && heightMm !== null,
    'the gate saw to it',
  )
  return {
    currency: campaign.currency,
    openingMinor,
    ladder: ladderFor(turn, row, campaign.currency),
    lateBid: lateBidOfCampaign(campaign),
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
      estimate: { lowMinor: row.lowMinor, highMinor: row.highMinor },
      photographs: getPhotographs(turn, row.id).map(({ sha, caption }) => ({ sha256: sha, caption })),
      ...(recordings.length > 0 && { recordings }),
    },
  }
}
