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
}
type Row = Columns & Record<string, Cell>

const MIGRATIONS = join(import.meta.dirname, '..', '..', 'db', 'migrations')

/**
 * Bids a second that bare SQLite takes on the copy of a house's data in `dir`: what the house wrote for its bids (the
 * bid, its leaf, the signed head, the fact, and the lot that it changes) is taken out and written once more, in the
 * same order into the same tables by prepared statements, a commit and a sync for each bid.
 */
export function bareRate(dir: string): number {
  const { handle } = openDatabase(join(dir, 'tagstrip.db'), MIGRATIONS, {})
  const all = (sql: string) => handle.prepare(sql).all() as Row[]
  const bids = all('SELECT * FROM bid ORDER BY rowid')
  const facts = all("SELECT * FROM fact WHERE kind = 'lot.bid' ORDER BY seq")
  const leaves = byBid(all("SELECT * FROM ledger_leaf WHERE json_extract(body, '$.kind') = 'bid'"), (row) =>
    Number(JSON.parse(row.body).sequence),
  )
  const heads = new Map(all('SELECT * FROM ledger_head').map((row) => [`${row.lot_id} ${row.size}`, row]))
  handle.exec(`
    DROP TRIGGER ledger_leaf_is_never_removed;
    DROP TRIGGER ledger_head_is_never_removed;
    DELETE FROM bid;
    DELETE FROM ledger_leaf WHERE position > 0;
    DELETE FROM ledger_head WHERE size > 1;
    DELETE FROM fact WHERE kind = 'lot.bid';
    VACUUM;
  `)
  const insert = (table: string, like: object) => {
    const names = Object.keys(like)
    return handle.prepare(`INSERT INTO ${table} (${names.join(', ')}) VALUES (${names.map(() => '?').join(', ')})`)
  }
  const planned = bids.map((bid, n) => {
    const leaf = leaves.get(`${bid.lot_id} ${bid.sequence}`)
    const head = leaf && heads.get(`${bid.lot_id} ${leaf.position + 1}`)
    const fact = facts[n]
    if (!leaf || !head || !fact) throw new Error(`bid ${n} has left no leaf, head or fact`)
    return { bid, leaf, head, fact }
  })
  const [first] = planned
  if (!first) throw new Error('no bid was taken')
  const insertBid = insert('bid', first.bid)
  const insertLeaf = insert('ledger_leaf', first.leaf)
  const insertHead = insert('ledger_head', first.head)
  const insertFact = insert('fact', first.fact)
  const changeLot = handle.prepare(
    `UPDATE lot SET leader_alias = ?, leader_person_id = ?, leader_sequence = ?, standing_minor = ?,
     bids = ?, sequence = ?, ledger_size = ?, head_hash = ? WHERE id = ?`,
  )
  const one = handle.transaction(({ bid, leaf, head, fact }: (typeof planned)[number]) => {
    const { alias, person_id: personId, sequence } = bid
    insertBid.run(...Object.values(bid))
    insertLeaf.run(...Object.values(leaf))
    insertHead.run(...Object.values(head))
    insertFact.run(...Object.values(fact))
    changeLot.run(alias, personId, sequence, sequence, sequence, sequence, head.size, head.root, bid.lot_id)
  })
  const began = performance.now()
  for (const rows of planned) one(rows)
  const seconds = (performance.now() - began) / 1000
  handle.close()
  return planned.length / seconds
}

const byBid = (rows: Row[], sequenceOf: (row: Row) => number) => new Map(rows.map((row) => [`${row.lot_id} ${sequenceOf(row)}`, row]))
