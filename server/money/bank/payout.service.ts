import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { giveBackPaid, takePayment, takeUnplaced } from '../booking/receive.service'
import { bookFee } from '../booking/spend.service'
import { readBooks } from '../books/books.service'
import { typedDay } from '../journal/typed.service'
import * as store from './bank.store'
import { layoutChoice } from './layout.rules'
import { findPayoutLayout, rememberPayoutLayout } from './layouts.service'
import { getOpenLine } from './open-line.service'
import type { BookPayoutIn, PayoutFileIn, PayoutPlace, PayoutPreview } from './payout.contract'
import { type PayoutRow, readPayout } from './payout-file.rules'
import { findLots } from './references.rules'
import { referencesKnown } from './references-known.service'

const sourceOf = ({ base64, text }: PayoutFileIn): Uint8Array | string =>
  base64 === undefined ? (text ?? '') : new Uint8Array(Buffer.from(base64, 'base64'))

type Placed = PayoutPreview['rows'][number]

/** How a processor's list stands against one line of the bank: each sale with its contract, and all that does not add up. */
export function readPayoutFile(sight: Sight, actor: Actor, input: PayoutFileIn): PayoutPreview {
  const { currency } = getCampaign(sight)
  const line = getOpenLine(sight, input.lineId)
  const show = (minor: number) => showMoney(minor, currency)
  const { places = [] } = input
  const source = sourceOf(input)
  const layout = input.afresh || layoutChoice(input) !== null ? null : findPayoutLayout(sight, source)
  const { rows, flaws, table } = readPayout(source, { currency, choice: { ...input, ...layout?.choice }, show })
  const references = referencesKnown(sight)
  const lots = new Map(readBooks(sight, actor).statement.lots.map((lot) => [lot.number, lot]))
  const chosen = new Map(places.map(({ line: at, to }) => [at, to]))
  const buyer = (lot: number) => lots.get(lot)?.buyer ?? ''

  const placed = rows.map((row): Placed => {
    if (row.grossMinor === 0) return { ...row, place: { to: 'fee' }, why: 'A fee alone' }
    const isBack = row.grossMinor < 0
    const by = chosen.get(row.line)
    if (by === 'unplaced' && !isBack) return { ...row, place: { to: 'unplaced', of: null }, why: 'Kept unallocated, as you say' }
    if (typeof by === 'number') return { ...row, place: { to: isBack ? 'back' : 'lot', lot: by, buyer: buyer(by) }, why: 'As you say' }
    const hits = findLots(row.reference, references)
    const [hit] = hits
    const former = hits.find(({ former: one }) => one)
    if (former?.former && !isBack && hits.every((one) => one.former)) {
      const { personId, buyer: whose } = former.former
      const why = `It carries the reference of ${whose}’s contract for lot ${former.lot}, which fell through: owed back to them`
      return { ...row, place: { to: 'unplaced', of: { personId, buyer: whose, lot: former.lot } }, why }
    }
    if (hit && new Set(hits.map(({ lot }) => lot)).size === 1) {
      const why = hit.how === 'reference' ? 'It carries the reference' : `It says “${hit.said}”`
      return { ...row, place: { to: isBack ? 'back' : 'lot', lot: hit.lot, buyer: buyer(hit.lot) }, why }
    }
    return { ...row, place: null, why: hits.length > 1 ? 'It names several lots' : 'It names no lot' }
  })

  const sum = (of: 'grossMinor' | 'feeMinor' | 'netMinor') => rows.reduce((all, row) => all + row[of], 0)
  const netMinor = sum('netMinor')
  if (flaws.length === 0) {
    flaws.push(...beyondOwed(placed, lots, show))
    for (const { line: at, place, why } of placed)
      if (place === null) flaws.push({ line: at, column: 'reference', words: `${why}. Choose which it pays, or keep it unallocated.` })
    for (const { line: at, feeMinor } of placed)
      if (feeMinor < 0)
        flaws.push({
          line: at,
          column: 'fee',
          words: 'More came than was paid: the net is above the gross. Check what these columns are used for.',
        })
    if (netMinor !== line.amountMinor) {
      const far = show(Math.abs(line.amountMinor - netMinor))
      const words = `The rows come to ${show(netMinor)}, the bank’s line is ${show(line.amountMinor)}: ${far} ${netMinor < line.amountMinor ? 'is missing' : 'is too much'}. Export the list of this one payout.`
      flaws.push({ line: 0, column: 'net', words })
    }
  }
  return {
    table,
    rows: placed,
    flaws,
    grossMinor: sum('grossMinor'),
    feeMinor: sum('feeMinor'),
    netMinor,
    lineMinor: line.amountMinor,
    currency,
    remembered:
      layout && layout.bearer !== ''
        ? { file: layout.file, at: layout.at, processor: layout.processor, bearer: layout.bearer, choice: layout.choice }
        : null,
  }
}

/** Rows that pay a lot more than it has to pay, with those before them in the list. */
function beyondOwed(
  rows: readonly Placed[],
  lots: ReadonlyMap<number, { owedMinor: number; receivedMinor: number }>,
  show: (minor: number) => string,
): PayoutPreview['flaws'] {
  const owed = new Map([...lots].map(([number, { owedMinor, receivedMinor }]) => [number, { owedMinor, receivedMinor }]))
  return rows.flatMap(({ line, place, grossMinor }) => {
    if (place?.to !== 'lot' && place?.to !== 'back') return []
    const lot = owed.get(place.lot)
    if (!lot) return [{ line, column: 'reference', words: `Lot ${place.lot} is not sold. Choose another.` }]
    if (place.to === 'lot' && grossMinor > lot.owedMinor)
      return [
        {
          line,
          column: 'gross',
          words: `Lot ${place.lot} has ${show(lot.owedMinor)} to pay, and this is ${show(grossMinor)}. Choose another lot, or keep it unallocated.`,
        },
      ]
    if (place.to === 'back' && -grossMinor > lot.receivedMinor)
      return [
        { line, column: 'gross', words: `Only ${show(lot.receivedMinor)} stands as paid for lot ${place.lot}, so no more went back.` },
      ]
    owed.set(place.lot, { owedMinor: lot.owedMinor - grossMinor, receivedMinor: lot.receivedMinor + grossMinor })
    return []
  })
}

/** Books every sale at its gross and every fee on its own, all on the one line of the bank; or nothing, at the first row that does not add up. */
export function bookPayout(turn: Turn, actor: Actor, input: BookPayoutIn): { sales: number } {
  return once(turn, input.key, input, () => {
    const line = getOpenLine(turn, input.lineId)
    const { rows, flaws, remembered } = readPayoutFile(turn, actor, input)
    const [flaw] = flaws
    if (flaw) throw Refusal.at('file', flaw.line > 0 ? `Line ${flaw.line}, ${flaw.column}: ${flaw.words}` : flaw.words)
    const valueOn = typedDay(turn, line.valueOn)
    for (const { place, grossMinor, feeMinor, ...row } of rows) {
      const paper = { reference: row.reference.slice(0, 80), valueOn, byPersonId: actor.personId }
      const entries = [
        ...(place === null || grossMinor === 0 ? [] : [bookSale(turn, place, { ...paper, amountMinor: Math.abs(grossMinor) }, row)]),
        ...(feeMinor === 0
          ? []
          : [bookFee(turn, { ...paper, amountMinor: feeMinor, to: input.processor, bearer: input.bearer, lot: lotOf(place) })]),
      ]
      for (const { entryId } of entries) store.insertMatch(turn.db, { entryId, lineId: line.id, isMade: true })
    }
    const { name: file, processor, bearer } = input
    rememberPayoutLayout(turn, actor, { source: sourceOf(input), choice: { ...input, ...remembered?.choice }, file, processor, bearer })
    store.updateLine(turn.db, line.id, { state: 'placed', why: '', settledAt: turn.now, settledByPersonId: actor.personId })
    turn.record({ kind: 'bank.payout-placed', subject: 'money', body: { line: line.seq, sales: rows.length } })
    return { sales: rows.length }
  })
}

const lotOf = (place: PayoutPlace | null): number | undefined => (place?.to === 'lot' || place?.to === 'back' ? place.lot : undefined)

function bookSale(
  turn: Turn,
  place: PayoutPlace,
  paper: { amountMinor: number; reference: string; valueOn: string; byPersonId: string },
  row: Pick<PayoutRow, 'name'>,
): { entryId: string } {
  if (place.to === 'lot') return takePayment(turn, { ...paper, lot: place.lot, over: 'refuse' })
  if (place.to === 'back') return giveBackPaid(turn, { ...paper, lot: place.lot, why: 'to the card, as the processor’s list says' })
  const of = place.to === 'unplaced' ? place.of : null
  const memo = of
    ? `Came by card from ${of.buyer} for lot ${of.lot}, whose sale to them fell through: owed back`
    : `Came by card from ${row.name || 'nobody named'}: not allocated yet`
  return takeUnplaced(turn, { ...paper, memo, personId: of?.personId ?? null })
}
