import { join } from 'node:path'
import { openDatabase } from '#db/open'

type Cell = string | number | null

/** The columns that are spoken of here; a row has all that its table has. */
interface Columns {
  lot_id: string
  sequence: number
  person_id: string
  alias: string
  position: number
  size: number
  root: string
  body: string
  answer: string
  ledger_peaks: string
  id: string
}
type Row = Columns & Record<string, Cell>

const MIGRATIONS = join(import.meta.dirname, '..', '..', 'db', 'migrations')

export interface Bare {
  /** Bids a second. */
  rate: number
  /** Microseconds of the processor for each, which the load of a machine changes less. */
  computes: number
}

/**
 * What bare SQLite takes on the copy of a house's data in `dir`: what the house wrote for its bids (the
 * bid, its leaf, the signed head, the fact, the notice to whoever was outbid, and the lot that it changes) is taken out and written once more, in the
 * same order into the same tables by prepared statements, a commit and a sync for each bid.
 */
export function bareBids(dir: string): Bare {
  const { handle } = openDatabase(join(dir, 'tagstrip.db'), MIGRATIONS, {})
  const all = (sql: string) => handle.prepare(sql).all() as Row[]
  const bids = all('SELECT * FROM bid ORDER BY rowid')
  const facts = all("SELECT * FROM fact WHERE kind = 'lot.bid' ORDER BY seq")
  const leaves = byBid(all("SELECT * FROM ledger_leaf WHERE json_extract(body, '$.kind') = 'bid'"), (row) =>
    Number(JSON.parse(row.body).sequence),
  )
  const heads = new Map(all('SELECT * FROM ledger_head').map((row) => [`${row.lot_id} ${row.size}`, row]))
  const notices = all("SELECT * FROM notice WHERE kind = 'outbid' ORDER BY rowid")
  const peaks = new Map(all('SELECT id, ledger_peaks FROM lot').map((row) => [row.id, row.ledger_peaks]))
  handle.exec(`
    DROP TRIGGER ledger_leaf_is_never_removed;
    DROP TRIGGER ledger_head_is_never_removed;
    DELETE FROM bid;
    DELETE FROM ledger_leaf WHERE position > 0;
    DELETE FROM ledger_head WHERE size > 1;
    DELETE FROM fact WHERE kind = 'lot.bid';
    DELETE FROM notice WHERE kind = 'outbid';
    VACUUM;
  `)
  const insert = (table: string, like: object) => {
    const names = Object.keys(like)
    return handle.prepare(`INSERT INTO ${table} (${names.join(', ')}) VALUES (${names.map(() => '?').join(', ')})`)
  }
  // Whoever led a lot and does no more was told, in the order in which it happened.
  const leading = new Map<string, Row>()
  let told = 0
  const planned = bids.map((bid, n) => {
    const leaf = leaves.get(`${bid.lot_id} ${bid.sequence}`)
    const head = leaf && heads.get(`${bid.lot_id} ${leaf.position + 1}`)
    const fact = facts[n]
    if (!leaf || !head || !fact) throw new Error(`bid ${n} has left no leaf, head or fact`)
    const before = leading.get(bid.lot_id)
    const leads = JSON.parse(bid.answer).leads === true
    if (leads) leading.set(bid.lot_id, bid)
    const isOutbid = leads && before !== undefined && before.person_id !== bid.person_id
    const notice = isOutbid ? notices[told++] : undefined
    if (isOutbid && (notice?.person_id !== before.person_id || notice.lot_id !== bid.lot_id)) throw new Error(`bid ${n} has left no notice`)
    // As it was written; a letter took it up later.
    const waits = notice && { ...notice, letter_id: null, gathered_at: null, pushed_at: null }
    const { closesAt, standingMinor } = JSON.parse(bid.answer)
    const { alias, person_id: personId, sequence } = leading.get(bid.lot_id) ?? bid
    const lot = [
      ...[closesAt, alias, personId, sequence, before?.alias ?? null, before?.sequence ?? null, standingMinor, bid.sequence, bid.sequence],
      ...[head.size, peaks.get(bid.lot_id) ?? '[]', head.root, bid.lot_id],
    ]
    return { bid, leaf, head, fact, waits, lot }
  })
  const [first] = planned
  if (!first) throw new Error('no bid was taken')
  const insertBid = insert('bid', first.bid)
  const insertLeaf = insert('ledger_leaf', first.leaf)
  const insertHead = insert('ledger_head', first.head)
  const insertFact = insert('fact', first.fact)
  const [notice] = notices
  const insertNotice = notice && insert('notice', notice)
  const changeLot = handle.prepare(
    `UPDATE lot SET closes_at = ?, leader_alias = ?, leader_person_id = ?, leader_sequence = ?, second_alias = ?, second_sequence = ?,
     standing_minor = ?, bids = ?, sequence = ?, ledger_size = ?, ledger_peaks = ?, head_hash = ? WHERE id = ?`,
  )
  const one = handle.transaction(({ bid, leaf, head, fact, waits, lot }: (typeof planned)[number]) => {
    insertBid.run(...Object.values(bid))
    insertLeaf.run(...Object.values(leaf))
    insertHead.run(...Object.values(head))
    insertFact.run(...Object.values(fact))
    if (waits) insertNotice?.run(...Object.values(waits))
    changeLot.run(...lot)
  })
  const [began, before] = [performance.now(), process.cpuUsage()]
  for (const rows of planned) one(rows)
  const seconds = (performance.now() - began) / 1000
  const { user, system } = process.cpuUsage(before)
  handle.close()
  return { rate: planned.length / seconds, computes: (user + system) / planned.length }
}

const byBid = (rows: Row[], sequenceOf: (row: Row) => number) => new Map(rows.map((row) => [`${row.lot_id} ${sequenceOf(row)}`, row]))
