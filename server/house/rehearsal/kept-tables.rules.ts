import { withoutSealed } from '#sale/lots/sealed.rules'

// What of a house a rehearsal is given. Whatever is not named as kept does not come along: a table that is new is empty there.

/** Copied whole, or with what `rehearsedRow` leaves of a row. */
export const KEPT: readonly string[] = [
  ...['migration', 'campaign', 'stream_day', 'person', 'photograph', 'recording', 'kept_file'],
  'earlier_machine',
  ...['donor', 'consent', 'parcel', 'gift', 'gift_change', 'gift_expected', 'thanks_told'],
  ...[
    'part',
    'parts_line',
    'line_substitute',
    'batch',
    'batch_change',
    'batch_test',
    'batch_waiver',
    'batch_words',
    'piece',
    'inspection',
    'sampling_plan',
  ],
  ...['design', 'block', 'feed', 'position', 'left_empty', 'check_step', 'set_catch', 'telling_reading', 'placement'],
  ...[
    'run',
    'unit',
    'unit_revision',
    'unit_importance',
    'build_ready',
    'instrument',
    'fitting',
    'rework',
    'reading',
    'evidence',
    'soak_run',
  ],
  ...['hold_release', 'fault', 'test_point', 'observation', 'certificate', 'board_photograph', 'board_pin'],
  ...['replacement_price', 'bench_week', 'bench_time_correction', 'spent_shown'],
  ...['lot', 'lot_extra', 'lot_photograph', 'lot_recording', 'lot_postage', 'lot_value', 'sale_rule'],
  ...['programme_item', 'audience_zone', 'day_wish'],
  ...['match_promise', 'relief_switch', 'payment_terms', 'sending_terms', 'postage_band', 'keeping_terms'],
]

/** Empty in a rehearsal, each with its reason. */
export const EMPTIED: Readonly<Record<string, string>> = {
  bid: 'sealed until its lot has ended',
  chain: 'sealed, as its maxima are',
  chain_link: 'sealed until its lot has ended',
  ledger_leaf: 'what was bid, and what is revealed at the end',
  ledger_head: 'signed for a history that is not copied',
  alias: 'who bids on what',
  paddle: 'who may bid: these people are invented',
  bid_trace: 'from where somebody bid',
  disclosure: 'what bidders told the house of themselves',
  retraction_request: 'what a bidder asked',
  void_request: 'whose bids are in question',
  reminder: 'who follows what',
  summed_up: 'which lots whoever bid on them was told of: nobody’s bid is copied',
  day_letter: 'to whom a letter of the day is to be written',
  notice: 'what is to be told to whom',
  push_device: 'devices of real people',
  push_wish: 'what real people are told of on them',
  closing_hold: 'why clocks were stopped',
  letter: 'mail to real people',
  request: 'answers kept for forms that are sent twice, maxima among them',
  fact: 'what happened in the house',
  published_group: 'where the house stands in what other machines are told: a rehearsal tells them nothing',
  changed_row: 'what other machines are told next',
  unconfirmed_message: 'what other machines have been told last',
  sealed_by: 'by which key the house seals: the copy seals by one of its own',
  alive: 'the second at which the house was last open',
  session: 'who is signed in',
  session_secret: 'by which secret they are signed in',
  passkey: 'the keys that the staff sign in with',
  account: 'what the sign-in keeps',
  verification: 'sign-in codes',
  code_request: 'who asked for a sign-in code',
  first_link: 'the link that makes the first maker',
  donor_link: 'what opens a donor’s own page',
  overlay_key: 'the key of the overlays',
  entry: 'the journal of real money',
  posting: 'the journal of real money',
  bank_line: 'the bank’s statement',
  bank_layout: 'the bank’s statement',
  bank_statement: 'the bank’s statement',
  bank_match: 'the bank’s statement',
  payment_reminder: 'letters to buyers',
  invoice_document: 'invoices of real buyers',
  invoice_paper: 'invoices of real buyers',
  joint_reference: 'invoices of real buyers',
  invoice_account: 'invoices of real buyers',
  change_record: 'who of the staff changed what in the house',
  second_offer: 'what an underbidder was offered',
  fixed_price: 'what is sold after the stream, with its contracts',
  delivery_address: 'where a buyer lives',
  parcel_wish: 'what a buyer wishes of parcels',
  consignment: 'what was sent to a buyer',
  packed_item: 'what was sent to a buyer',
  packing_photograph: 'what was sent to a buyer',
  problem: 'what a buyer wrote',
  problem_note: 'what a buyer wrote',
  home_report: 'what a buyer found at home',
  quarantine_notice: 'whom the house has told',
  pack_made: 'packs of the house itself',
  contact_deletion: 'what was deleted in the house itself',
  last_letter: 'whom the house has told',
  keep_question: 'whom the house has asked, and by which key they answer',
  sheet: 'what a maker brought to be read',
}

export type CopiedRow = Record<string, string | number | null>

const ENDED = ['sold', 'unsold', 'withdrawn']

/** Seals an amount as the reserve of a lot, by the copy's own key. */
export type SealReserve = (lot: number, amountMinor: number) => string

/** What a rehearsal at `now` is given of one row; null for a row that stays at home. */
export function rehearsedRow(table: string, row: CopiedRow, now: number, sealReserve: SealReserve): CopiedRow | null {
  // Whoever can bid in a rehearsal is invented there.
  if (table === 'person') return row.role === 'bidder' ? null : row
  if (table === 'donor') return { ...row, contact: '' }
  return table === 'lot' ? rehearsedLot(row, now, sealReserve) : row
}

/** What bidding writes into a lot. */
const UNBID = {
  ...{ winner_person_id: null, leader_alias: null, leader_person_id: null, leader_sequence: null },
  ...{ second_alias: null, second_sequence: null, standing_minor: null },
  ...{ bids: 0, sequence: 0, extensions: 0, ledger_size: 0, ledger_peaks: '[]', head_hash: null },
}

/** A lot that has ended keeps its result; any other is as it was before it opened, and opens again in the rehearsal. */
function rehearsedLot(row: CopiedRow, now: number, sealReserve: SealReserve): CopiedRow {
  if (ENDED.includes(String(row.state))) {
    return withoutSealed({ ...row, ...UNBID })
  }
  const reserve = row.sealed_reserve ? inventedReserve(row) : null
  const closes = row.held_since === null ? (row.closes_at ?? null) : Number(row.closes_at) + now - Number(row.held_since)
  const state = row.state === 'draft' ? 'draft' : 'ready'
  const unopened = { state, opened_at: null, terms: null, corrections: '[]', held_since: null, held_reason: null, held_with_all: 0 }
  const sealed = reserve === null ? null : sealReserve(Number(row.number), reserve)
  return { ...withoutSealed(row), ...UNBID, ...unopened, sealed_reserve: sealed, closes_at: closes }
}

/** Where the lot has a reserve it rehearses with one: made of its opening price and its low estimate, which anybody may see. */
function inventedReserve({ opening_minor, low_minor }: CopiedRow): number | null {
  if (opening_minor === null) return null
  const opening = Number(opening_minor)
  return Math.floor((opening + Math.max(opening, Number(low_minor ?? opening * 2))) / 2)
}
