import type { Instant } from '#kernel/instant'

/** What a person is called whose name was deleted. */
export const UNNAMED_BIDDER = 'A bidder'
export const UNNAMED_DONOR = 'A donor'
export const DELETED = '(deleted)'

/** One kind of contact data: in which table it stands, and what deleting it means. */
export interface ContactStep {
  key: string
  /** "email addresses of bidders" */
  what: string
  table: string
  /** The condition for rows that hold something to be deleted. */
  where: string
  /** The statement that deletes it from those rows. */
  change: string
}

// RFC 2606: mail to an address under .invalid goes nowhere.
const BIDDER = `role = 'bidder' AND email NOT LIKE '%@forgotten.invalid'`
const BOUGHT = 'SELECT person_id FROM entry WHERE person_id IS NOT NULL'
/** The condition for donors who agreed to be named somewhere: they stay named, in the words they agreed to. */
const IS_NAMED = `anonymity = 'named' AND approved = 1 AND EXISTS (
  SELECT 1 FROM consent WHERE consent.donor_id = donor.id AND consent.given = 1
    AND consent.rowid = (SELECT max(later.rowid) FROM consent AS later WHERE later.donor_id = donor.id AND later.use = consent.use))`

/** Some, by their ids: these alone, or all but these. */
export type Some = { only: readonly string[] } | { but: readonly string[] }

/** Whose contact data, and which, is to be deleted. */
export interface Going {
  /** Bidders; the staff are never among them. */
  bidders: Some
  donors: Some
  /** What is kept for the sake of a lot: addresses, parcels, problems. */
  lots: Some
  /** What is no one person's goes where it is from before this instant. */
  until: Instant
}

/** Everything: after the one campaign of a house, and in a copy that is to hold none. */
export const ALL_GOES: Going = { bidders: { but: [] }, donors: { but: [] }, lots: { but: [] }, until: Number.MAX_SAFE_INTEGER }

const quoted = (ids: readonly string[]): string => ids.map((id) => `'${id.replaceAll("'", "''")}'`).join(', ')

/** The condition that a column names one of some. */
export const among = (column: string, some: Some): string =>
  'only' in some ? `${column} IN (${quoted(some.only)})` : `${column} NOT IN (${quoted(some.but)})`

export const isAmong = (id: string, some: Some): boolean => ('only' in some ? some.only.includes(id) : !some.but.includes(id))

const remove = (key: string, what: string, table: string, where = '1'): ContactStep => ({
  key,
  what,
  table,
  where,
  change: `DELETE FROM ${table} WHERE ${where}`,
})

const blank = (key: string, what: string, table: string, set: string, where: string): ContactStep => ({
  key,
  what,
  table,
  where,
  change: `UPDATE ${table} SET ${set} WHERE ${where}`,
})

/** The order matters: whatever is found by an email address is deleted before the address is. */
export function contactSteps({ bidders, donors, lots, until }: Going): ContactStep[] {
  const ofBidder = `person_id IN (SELECT id FROM person WHERE role = 'bidder' AND ${among('id', bidders)})`
  const bidder = `${BIDDER} AND ${among('id', bidders)}`
  const donor = among('id', donors)
  const ofLot = among('lot_id', lots)
  const before = (column: string) => `${column} < ${until}`
  const toThem = `recipient IN (SELECT email FROM person WHERE ${bidder} UNION SELECT contact FROM donor WHERE contact <> '' AND ${donor})`
  return [
    remove('sessions', 'sign-ins of bidders, with their browsers', 'session', ofBidder),
    blank(
      'browsers',
      'browsers and network addresses of the staff',
      'session',
      'ip_address = NULL, user_agent = NULL',
      'ip_address IS NOT NULL OR user_agent IS NOT NULL',
    ),
    remove('accounts', 'what the sign-in keeps about bidders', 'account', ofBidder),
    remove('passkeys', 'passkeys of bidders who used to be staff', 'passkey', ofBidder),
    remove('codes', 'passkey challenges, kept for five minutes', 'verification'),
    remove('asked', 'who asked for a code', 'code_request'),
    remove('requests', 'answers kept in case a form is sent twice', 'request', before('at')),
    remove('traces', 'fingerprints of the networks and devices that bids came from', 'bid_trace', ofLot),
    remove('letters', 'letters in the outbox, sent or waiting', 'letter', `${before('at')} OR ${toThem}`),
    remove('devices', 'devices that messages went to', 'push_device', among('person_id', bidders)),
    remove('push-wishes', 'what messages were wanted of', 'push_wish', among('person_id', bidders)),
    remove('letters of the day', 'to whom one is still to be written', 'day_letter', among('person_id', bidders)),
    remove('notices', 'what bidders were told of their bids', 'notice', `${before('at')} OR ${ofBidder}`),
    remove('reminders', 'who wanted an email before a lot closed', 'reminder', `${ofLot} OR ${ofBidder}`),
    blank(
      'disclosures',
      'what bidders wrote when they disclosed a tie to a lot',
      'disclosure',
      `words = ''`,
      `words <> '' AND (${before('at')} OR ${ofBidder})`,
    ),
    remove('addresses', 'addresses for sending, with telephone numbers', 'delivery_address', `${ofLot} OR ${ofBidder}`),
    remove('parcel-wishes', 'whether buyers wanted one parcel or several', 'parcel_wish'),
    blank(
      'tracking',
      'tracking numbers of what was sent',
      'consignment',
      `tracking = '', tracking_url = ''`,
      `(tracking <> '' OR tracking_url <> '') AND ${ofLot}`,
    ),
    remove('packing', 'photographs of packed boxes', 'packing_photograph', ofLot),
    blank(
      'problems',
      'what buyers wrote when they reported a problem',
      'problem_note',
      `words = '${DELETED}', photo_sha = NULL`,
      `(words <> '${DELETED}' OR photo_sha IS NOT NULL) AND problem_id IN (SELECT id FROM problem WHERE ${ofLot})`,
    ),
    blank(
      'reminded',
      'texts of payment reminders',
      'payment_reminder',
      `subject = '${DELETED}', body = '${DELETED}'`,
      `body <> '${DELETED}' AND ${ofLot}`,
    ),
    blank(
      'bank',
      'names and words of payers on the bank’s lines',
      'bank_line',
      `name = '', words = ''`,
      `(name <> '' OR words <> '') AND ${before('read_at')}`,
    ),
    blank(
      'names',
      'names of bidders who bought nothing',
      'person',
      `name = '${UNNAMED_BIDDER}'`,
      `${bidder} AND id NOT IN (${BOUGHT}) AND name <> '${UNNAMED_BIDDER}'`,
    ),
    blank('mail', 'email addresses of bidders', 'person', `email = id || '@forgotten.invalid', email_verified = 0, image = NULL`, bidder),
    blank(
      'parcels',
      'photographs of parcels, whose labels show addresses, and notes on them',
      'parcel',
      `photo_sha = NULL, note = ''`,
      `(photo_sha IS NOT NULL OR note <> '') AND ${before('arrived_at')}`,
    ),
    remove('sheets', 'spreadsheets that were brought to be read and are not stored yet', 'sheet', `state <> 'stored'`),
    blank('sheet-names', 'names of the files that spreadsheets came in', 'sheet', `name = ''`, `name <> ''`),
    blank('donor-mail', 'email addresses of donors', 'donor', `contact = ''`, `contact <> '' AND ${donor}`),
    blank(
      'asked-names',
      'names that donors asked for and that were not used',
      'donor',
      'asked_credit_name = NULL, asked_say_it = NULL',
      `asked_credit_name IS NOT NULL AND ${donor}`,
    ),
    blank(
      'donor-names',
      'names of donors who did not agree to be named anywhere',
      'donor',
      `name = '${UNNAMED_DONOR}', credit_name = '${UNNAMED_DONOR}', say_it = ''`,
      `NOT (${IS_NAMED}) AND name <> '${UNNAMED_DONOR}' AND ${donor}`,
    ),
    blank(
      'own-names',
      'donors’ names other than the one they agreed to',
      'donor',
      'name = credit_name',
      `${IS_NAMED} AND name <> credit_name AND ${donor}`,
    ),
  ]
}

/** What stays, and why. */
export const STAYS: readonly { what: string; why: string }[] = [
  {
    what: 'Names of those who bought, with the lot and the price',
    why: 'The books and the invoices depend on them. Local law says how long books must be kept.',
  },
  { what: 'The journal, word for word', why: 'No entry is ever changed. What was written into a memo or a reference stays in it.' },
  {
    what: 'Names of donors as they agreed to be named',
    why: 'They agreed to it. If they change their mind they can ask, and the maker withdraws it on the donor’s page.',
  },
  { what: 'Bid histories and their signed heads', why: 'They hold aliases, not people, and anybody may check them.' },
  { what: 'Certificates and records', why: 'They name who tested, but no donor and no buyer.' },
  { what: 'Email addresses of the staff', why: 'They sign in with them. Take away a role, and the address goes with the next deletion.' },
  { what: 'The seller’s own address', why: 'It is on every invoice.' },
  {
    what: 'Invoices, credit notes and corrected invoices as issued, with the name and address on them',
    why: 'A document that was issued is never changed. Local law says how long such papers must be kept, and when they must go. A pack without contact data leaves their addresses out.',
  },
]

/** Tables that are never changed. An address that was typed into one of them stays, and the person who deletes is told so. */
export const NEVER_CHANGED: readonly string[] = [
  'entry',
  'posting',
  'ledger_leaf',
  'ledger_head',
  'certificate',
  'migration',
  'invoice_document',
  'invoice_paper',
  'joint_reference',
]

/** An expression that finds each of these texts, in capitals too; null when there is nothing to find. */
export function expressionFor(texts: readonly string[]): RegExp | null {
  const kept = [...new Set(texts.map((text) => text.trim()).filter((text) => text.length >= 5))]
  if (kept.length === 0) return null
  // The longest come first: where one address is a part of another, the whole of the longer one has to be found.
  const escaped = kept.sort((a, b) => b.length - a.length).map((text) => text.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&'))
  return new RegExp(escaped.join('|'), 'gi')
}
