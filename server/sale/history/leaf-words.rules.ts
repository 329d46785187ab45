import { type Currency, type Minor, showMoney } from '#kernel/money'
import type { NamedCertificate } from '../lots/lots.contract'
import type { PriceReason } from '../price/price.rules'
import type { Leaf } from './history.contract'

const WHY: Record<PriceReason, string> = {
  opening: 'the opening price',
  second: 'one step over the second',
  cap: 'the leader’s whole maximum',
  reserve: 'the reserve, now reached',
}

/** An entry of a lot's history as a sentence, for people. */
export function sayLeaf(leaf: Leaf, currency: Currency): string {
  const show = (amount: Minor) => showMoney(amount, currency)
  switch (leaf.kind) {
    case 'opened':
      return `Opened at ${show(leaf.terms.openingMinor)}, ${leaf.reserveCommitment ? 'with a reserve that is sealed until the end' : 'without a reserve'}. The terms are fixed.`
    case 'bid': {
      const outcome =
        leaf.standingMinor === null || leaf.why === null ? '' : ` ${leaf.leader} leads at ${show(leaf.standingMinor)}: ${WHY[leaf.why]}.`
      return `Bid ${leaf.sequence} by ${leaf.alias}, the maximum sealed.${outcome}`
    }
    case 'extended':
      return leaf.by === 'rule'
        ? // As it was signed: what a late bid was then, whatever it is now.
          `${leaf.reason.replace(/\.$/, '')}, so the closing moved.`
        : `The ${leaf.by} moved the closing: ${leaf.reason}`
    case 'held':
      return `${leaf.by === 'rule' ? 'The house' : `The ${leaf.by}`} stopped the clock: ${leaf.reason}`
    case 'resumed':
      return leaf.shiftMs === 0
        ? 'The clock went on, and the closing stayed where it was.'
        : `The clock went on, and the closing moved by ${sayShift(leaf.shiftMs)}.`
    case 'outage':
      return `The house was down near the closing, so it moved by ${sayShift(leaf.shiftMs)}.`
    case 'corrected':
      return leaf.certificate ? leaf.words : `The description was corrected: ${leaf.words}`
    case 'voided':
      return `The bids of ${leaf.alias} were voided by two of the staff${sayTwo(leaf)}: ${leaf.reason} ${leaf.standingMinor === null ? 'No bid is left.' : `${leaf.leader} leads at ${show(leaf.standingMinor)}.`}`
    case 'withdrawn':
      return `Withdrawn: ${leaf.reason} Nobody wins.`
    case 'closed':
      return leaf.result === 'sold' && leaf.hammerMinor !== null
        ? `Closed. The hammer fell at ${show(leaf.hammerMinor)} to ${leaf.leader}.`
        : `Closed and not sold${leaf.leader ? ': the reserve was not reached' : ': nobody bid'}.`
    case 'revealed': {
      const reserve = leaf.reserve ? ` The reserve was ${show(leaf.reserve.amountMinor)}.` : ''
      return `${leaf.openings.length === 1 ? 'One maximum was' : `${leaf.openings.length} maxima were`} opened.${reserve}${leaf.sealed === null ? '' : ` The winner’s last, bid ${leaf.sealed}, stays sealed.`}`
    }
  }
}

/** What became of the certificate that a lot's terms name, for its history, its page and its bidders. */
export function certificateWords({ serial, is, by }: NamedCertificate, reason = ''): string {
  const named = `The certificate ${serial}, which this lot was offered with,`
  if (is === 'superseded') return `${named} was superseded by ${by}. The readings are on the page of each.`
  if (by !== null) return `${named} stays withdrawn. ${by} was issued after new readings, and says why.`
  return `${named} was withdrawn${reason === '' ? '.' : `: ${reason}`}`
}

/** What stands above such an entry on the lot's page: one about the certificate corrects no description. */
export function correctionTitle({ certificate }: { certificate?: NamedCertificate | undefined }): string {
  if (!certificate) return 'The description was corrected'
  if (certificate.is === 'superseded') return 'The certificate was superseded'
  return certificate.by === null ? 'The certificate was withdrawn' : 'Another certificate was issued'
}

/** Who the two were, where the entry says it: the earliest do not. */
function sayTwo({ asked, agreed }: Extract<Leaf, { kind: 'voided' }>): string {
  if (!asked || !agreed) return ''
  const isOneDay = asked.at.slice(0, 10) === agreed.at.slice(0, 10)
  const clock = (at: string) => `${isOneDay ? '' : `${at.slice(0, 10)} `}${at.slice(11, 16)} UTC`
  return `, asked for by the ${asked.by} at ${clock(asked.at)}, agreed to by the ${agreed.by} at ${clock(agreed.at)}`
}

function sayShift(milliseconds: number): string {
  const seconds = Math.round(milliseconds / 1000)
  return seconds < 120 ? `${seconds} s` : `${Math.floor(seconds / 60)} min ${seconds % 60} s`
}
