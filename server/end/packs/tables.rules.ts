import { withoutKey } from '#people/outbox/gone-letter.rules'
import { rowWithoutSealed, SEALED_TABLES } from '#sale/lots/sealed.rules'

// Which parts of the database go into a pack, and which never do.

/** Tables that are left out: secrets, what signs people in, and what the reader makes anew. Each has its reason. */
export const LEFT_OUT: Readonly<Record<string, string>> = {
  session: 'who is signed in',
  session_secret: 'by which secret they are signed in',
  passkey: 'the keys that the staff sign in with',
  account: 'what the sign-in keeps',
  verification: 'what was asked of a passkey, for five minutes',
  code_request: 'who asked for a sign-in code, and its digest',
  push_device: 'where devices of bidders are reached',
  push_wish: 'what they are told of on them',
  first_link: 'the link that makes the first maker',
  overlay_key: 'the key of the overlays',
  request: 'answers kept for forms that are sent twice',
  alive: 'the second at which the house was last open',
  sealed_by: 'by which key maxima and reserves are sealed, which the reader does with its own',
  migration: 'the list of steps of the database, which the reader makes anew',
}

export interface TableChoice {
  tables: string[]
  leftOut: string[]
}

/** Chooses the tables that are packed, and says in sentences what is left out. */
export function chooseTables(all: readonly string[], openLots: readonly number[]): TableChoice {
  const sealed = openLots.length > 0
  const tables = all.filter((name) => !(name in LEFT_OUT) && !(sealed && SEALED_TABLES.includes(name))).sort()
  const leftOut = all.flatMap((name) => (LEFT_OUT[name] === undefined ? [] : [`${name}: ${LEFT_OUT[name]}`])).sort()
  leftOut.push('letter: sign-in codes that wait, and the keys in links to a donor’s own page', 'private keys and secrets of the house')
  if (sealed) {
    const lots = openLots.length === 1 ? `lot ${openLots[0]} has` : `lots ${openLots.join(', ')} have`
    leftOut.push(`sealed maxima, reserves and either-or lists, since ${lots} not ended: this pack can be read, but not be read back`)
  }
  return { tables, leftOut }
}

/** A row as it is packed: what is secret in it is taken away. */
export function packedRow<Row extends Record<string, unknown>>(table: string, row: Row, isSealed: boolean): Row {
  if (table === 'letter')
    return { ...row, sealed_code: null, sealed_words: null, sealed_attachment: null, body: withoutKey(String(row.body)) }
  return isSealed ? rowWithoutSealed(table, row) : row
}
