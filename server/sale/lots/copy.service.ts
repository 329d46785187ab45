import { type Minor, plainMoney } from '#kernel/money'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Turn } from '#runtime/queue/turn'
import type { CopyLotIn } from './lots.contract'
import { changeLot, getLotRow, getPhotographs } from './lots.service'
import { moveExtraGifts } from './lots.store'
import { showCountries } from './postage.rules'
import { addPhotograph, publishLot, readPrepared, saveLot, savePostage, startLot } from './prepare.service'
import { addRecording, getRecordings } from './recordings.service'

/**
 * Starts a lot with what another one says: title, story, extras, prices, estimates, size and postage. Photographs and recordings
 * show one machine and no other, so they are not copied.
 */
export function copyLot(turn: Turn, actor: Actor, { unit, from }: CopyLotIn): { number: number } {
  const { row, extras, postage } = readPrepared(turn, from)
  const { currency } = getCampaign(turn)
  const money = (minor: Minor | null) => (minor === null ? '' : plainMoney(minor, currency))
  const { number } = startLot(turn, actor, { unit })
  if (row.title !== '')
    saveLot(turn, actor, {
      lot: number,
      title: row.title,
      story: row.story,
      extras: extras.join('\n'),
      opening: money(row.openingMinor),
      reserveKind: !row.reserveDecided ? 'undecided' : row.reserveMinor === null ? 'none' : 'amount',
      reserve: money(row.reserveMinor),
      low: money(row.lowMinor),
      likely: money(row.likelyMinor),
      high: money(row.highMinor),
      weightGrams: row.weightGrams,
      lengthMm: row.lengthMm,
      widthMm: row.widthMm,
      heightMm: row.heightMm,
      // Another address is another offer: it is entered anew.
      soldWhere: 'here',
      elsewhereUrl: '',
    })
  const rows = postage.map(({ zone, countries, amountMinor }) => ({
    zone,
    countries: showCountries(countries),
    amount: money(amountMinor),
  }))
  if (rows.length > 0) savePostage(turn, actor, { lot: number, rows })
  return { number }
}

/**
 * Puts the machine of a lot that ended without a sale into a new lot, with all that the earlier one said and showed of it. The
 * gifts that went along as extras go along with this one. What became of the earlier lot stays in its record.
 */
export function copyAnew(turn: Turn, actor: Actor, from: number): { number: number } {
  const before = getLotRow(turn, from)
  const { number } = copyLot(turn, actor, { unit: before.unitTag, from })
  const { id, title, story } = getLotRow(turn, number)
  for (const { sha, caption } of getPhotographs(turn, before.id)) addPhotograph(turn, { lot: number, sha, caption })
  for (const { sha, caption, description } of getRecordings(turn, before.id)) addRecording(turn, { lot: number, sha, caption, description })
  moveExtraGifts(turn.db, before.id, id)
  // It was said of the machine, and the machine is for sale again.
  if (before.afterwards !== '') changeLot(turn, before.id, { afterwards: '' })
  if (title !== '' && story !== '') publishLot(turn, number)
  return { number }
}
