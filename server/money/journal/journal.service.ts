import { invariant } from '#kernel/invariant'
import type { Minor } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { campaignNumber } from '#people/campaign/which.service'
import type { Turn } from '#runtime/queue/turn'
import { changeLot, findLotOfUnit, getLotRowById, type LotRow } from '#sale/lots/lots.service'
import { balanced, type CostAbout, type EntryKind, hammerPostings, type Posting, postagePostings } from './journal.rules'
import * as store from './journal.store'
import { accountOf, PRICE_KINDS } from './lot-account.rules'
import { today } from './value-day.rules'

export interface NewEntry {
  kind: EntryKind
  postings: readonly Posting[]
  memo: string
  reference?: string
  /** The day on the bank's paper, `2027-03-14`. */
  valueOn: string
  lotId?: string
  lotNumber?: number
  personId?: string | null
  donorId?: string | null
  byPersonId: string | null
  correctsId?: string
  /** The entry with which the money came that this one finds a home for. */
  placesId?: string | null
  promiseId?: string | null
  about?: CostAbout | ''
  runId?: string | null
}

/** Writes one entry; nothing in the journal is ever changed or taken out. Answers its id. */
export function writeEntry(turn: Turn, one: NewEntry): string {
  const id = turn.dice.id()
  const postings = balanced(one.postings)
  invariant(postings.length >= 2, 'an entry has two lines or more')
  store.insertEntry(
    turn.db,
    {
      id,
      at: turn.now,
      kind: one.kind,
      memo: one.memo.slice(0, 300),
      reference: one.reference ?? '',
      valueOn: one.valueOn,
      lotId: one.lotId ?? null,
      personId: one.personId ?? null,
      donorId: one.donorId ?? null,
      byPersonId: one.byPersonId,
      correctsId: one.correctsId ?? null,
      placesId: one.placesId ?? null,
      promiseId: one.promiseId ?? null,
      about: one.about ?? '',
      runId: one.runId ?? null,
      campaignNumber: campaignOf(turn, one),
    },
    postings,
  )
  if (one.lotId !== undefined && PRICE_KINDS.includes(one.kind)) keepWhatStands(turn, one.lotId)
  const kind = one.correctsId ? 'money.corrected' : `money.${one.kind}`
  const subject = one.lotNumber === undefined ? 'money' : `lot:${one.lotNumber}`
  turn.record({
    kind,
    subject,
    body: { entry: id, amountMinor: postings.reduce((sum, { amountMinor }) => sum + Math.max(0, amountMinor), 0) },
  })
  return id
}

/** The campaign of its lot, else that of the entry that it takes back or finds a home for, else the one that is looked at. */
function campaignOf(turn: Turn, { lotId, correctsId, placesId }: NewEntry): number {
  if (lotId !== undefined) return getLotRowById(turn, lotId).campaignNumber
  const other = correctsId ?? placesId
  return (other && store.findEntry(turn.db, other)?.campaignNumber) || campaignNumber(turn)
}

/** The lot says what stands of its price, for every page and feed that names it. */
function keepWhatStands(turn: Turn, lotId: string): void {
  const { fellAtMinor, hammerMinor } = accountOf(lotId, store.readJournal(turn.db))
  const row = getLotRowById(turn, lotId)
  const standsMinor = hammerMinor === fellAtMinor ? null : hammerMinor
  if (row.standsMinor === standsMinor) return
  if (standsMinor !== 0) needsMachine(turn, row)
  // Whoever has bought it has it: what was said of a machine that nobody bought is so no longer.
  changeLot(turn, lotId, { standsMinor, ...(standsMinor !== 0 && { afterwards: '' as const }) })
  turn.record({ kind: 'lot.stands', subject: `lot:${row.number}`, body: { standsMinor: hammerMinor } })
}

/** A sale that fell through cannot stand again once its machine is in another lot. */
function needsMachine(turn: Turn, row: LotRow): void {
  const other = findLotOfUnit(turn, row.unitId)
  if (other && other.id !== row.id && other.state !== 'unsold' && other.state !== 'withdrawn')
    throw Refusal.at(
      'lot',
      `${row.unitTag} is in lot ${other.number} now, so the sale of lot ${row.number} cannot stand again.`,
      'conflict',
    )
}

export interface Sale {
  lotId: string
  lotNumber: number
  hammerMinor: Minor
  /** Nought while it is not known; the treasurer sets it later. */
  postageMinor: Minor
  winnerPersonId: string | null
}

/** The hammer fell: called once by whoever closes a lot as sold, in the same turn. */
export function recordHammer(turn: Turn, sale: Sale): void {
  const before = store.findLotEntries(turn.db, sale.lotId)
  invariant(!before.some(({ kind }) => kind === 'hammer'), `the hammer falls once on lot ${sale.lotNumber}`)
  writePrice(turn, sale, { kind: 'hammer', memo: `Hammer price of lot ${sale.lotNumber}`, byPersonId: null })
}

/** What a buyer owes by a contract of sale: its price, shared as the lot's terms promise, and its postage where that is known. Answers the id of the price's entry. */
export function writePrice(turn: Turn, sale: Sale, entry: { kind: 'hammer' | 'resale'; memo: string; byPersonId: string | null }): string {
  const campaign = getCampaign(turn)
  const common = {
    lotId: sale.lotId,
    lotNumber: sale.lotNumber,
    personId: sale.winnerPersonId,
    byPersonId: entry.byPersonId,
    valueOn: today(turn.now, campaign.zone),
  }
  const shareBp = getLotRowById(turn, sale.lotId).terms?.sale.causeShareBp ?? campaign.causeShareBp
  const id = writeEntry(turn, { ...common, ...entry, postings: hammerPostings(sale.hammerMinor, shareBp) })
  if (sale.postageMinor > 0) {
    writeEntry(turn, { ...common, kind: 'postage', postings: postagePostings(sale.postageMinor), memo: `Postage of lot ${sale.lotNumber}` })
  }
  return id
}
