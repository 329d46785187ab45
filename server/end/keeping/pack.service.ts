import { createReadStream, existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import type Database from 'better-sqlite3'
import { listCertificates } from '#bench/certificates/standing.service'
import { listRoster } from '#bench/units/roster.service'
import { setPaper } from '#doors/papers/papers'
import { ADDRESSES } from '#doors/web/addresses'
import { exportTable } from '#gifts/parcels/export.service'
import { type Cell, writeCsv } from '#kernel/csv'
import { toIso } from '#kernel/instant'
import { type Currency, plainMoney } from '#kernel/money'
import { listSoldLots } from '#money/journal/sold.service'
import { findCampaign } from '#people/campaign/campaign.service'
import { matchAddress } from '#runtime/call/address'
import type { Actor, Sight } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { accountSheet } from './account.service'
import type { PackedRow } from './pack.contract'
import { readMe } from './pack-words.rules'
import { readSheet, SHEETS, type SheetRow } from './sheets.store'
import { packedRow } from './tables.rules'
import { rowsOf } from './tables.store'
import type { Body } from './zip-writer'

export interface Packed {
  path: string
  body: () => Body | Promise<Body | null>
}

export interface PackSource {
  sight: Sight
  handle: Database.Database
  tables: readonly string[]
  /** Sealed maxima are taken out of what is left. */
  isSealed: boolean
  /** In whose name papers that only some may have are asked for. */
  reader: Actor
  dataDir: string
  /** The steps of the database with their comments: what each table is. */
  schema: string
  leftOut: readonly string[]
}

/** Everything that goes into a pack, in its order; each body is made when its turn comes. */
export function packContents(source: PackSource): Packed[] {
  const { sight, handle, tables, isSealed, schema, leftOut } = source
  return [
    { path: 'README.txt', body: () => readMe({ campaign: findCampaign(sight)?.name ?? '', madeAt: toIso(sight.now), leftOut }) },
    { path: 'tables/schema.sql', body: () => schema },
    ...tables.map((table) => ({ path: `tables/${table}.json`, body: () => tableBody(handle, table, isSealed) })),
    ...sheets(source),
    ...views(source),
    ...photographs(source),
    { path: 'keys/public-keys.json', body: () => JSON.stringify(sight.keys.jwks(), null, 1) },
  ]
}

/** `[`, a row on each line, `]`: readable as a whole, and line by line. */
function* tableBody(handle: Database.Database, table: string, isSealed: boolean): Generator<string> {
  let before = '[\n'
  for (const row of rowsOf(handle, table)) {
    yield `${before}${JSON.stringify(packedRow(table, row, isSealed) satisfies PackedRow)}`
    before = ',\n'
  }
  yield before === '[\n' ? '[]\n' : '\n]\n'
}

function sheets({ sight, handle }: PackSource): Packed[] {
  const currency = findCampaign(sight)?.currency ?? 'GBP'
  const own = Object.entries(SHEETS).map(([name, sql]) => ({
    path: `csv/${name}.csv`,
    body: () => {
      const { head, rows } = readSheet(handle, sql)
      return writeCsv(
        head.map((name) => name.replace(/ minor$/, '')),
        rows.map((row) => head.map((name) => cellOf(name, row, currency))),
      )
    },
  }))
  const lists = (['donors', 'gifts', 'parcels'] as const).map((what) => ({
    path: `csv/${what}.csv`,
    body: () => exportTable(sight, what).text,
  }))
  return [...lists, ...own, { path: 'csv/statement.csv', body: () => accountSheet(sight).text }]
}

function cellOf(name: string, row: SheetRow, currency: Currency): Cell {
  const value = row[name] ?? null
  if (typeof value !== 'number') return value
  if (name.endsWith(' minor')) return Number(plainMoney(value, currency))
  return name.endsWith(' at') ? toIso(value) : value
}

/** What the house shows at its addresses, as it shows it: data, certificates, histories and papers. */
function views({ sight, reader }: PackSource): Packed[] {
  const ask = (address: string, path: string): Packed => ({ path, body: () => answerOf(sight, reader, address) })
  const lots = listLots(sight)
  const sold = listSoldLots(sight)
  return [
    ...['proceeds.json', 'lots.json', 'credits.json'].map((name) => ask(`/${name}`, `public/${name}`)),
    ask('/programme.ics', 'public/programme.ics'),
    ...lots
      .filter(({ ledgerSize }) => ledgerSize > 0)
      .map(({ number }) => ask(`/lots/${number}/history.json`, `histories/lot-${number}.json`)),
    ...listCertificates(sight).flatMap(({ serial }) => [
      ask(`/certificates/${serial}.json`, `certificates/${serial}.json`),
      ask(`/certificates/${serial}.pdf`, `papers/certificates/${serial}.pdf`),
    ]),
    ...listRoster(sight).map(({ tag }) => ask(`/units/${tag}/record.json`, `records/${tag}.json`)),
    ask('/bench/keeping/statement.pdf', 'papers/statement.pdf'),
    ...sold.map(({ number }) => ask(`/lots/${number}/invoice.pdf`, `papers/invoices/lot-${number}.pdf`)),
  ]
}

/** Null where the house shows nothing there. */
async function answerOf(sight: Sight, reader: Actor, path: string): Promise<Body | null> {
  const match = matchAddress(ADDRESSES, path)
  const answer = match?.address.answer(sight, match.params, new URLSearchParams(), reader)
  if (!answer) return null
  return typeof answer.body === 'object' && 'print' in answer.body ? setPaper(answer.body.print) : answer.body
}

function photographs({ dataDir }: PackSource): Packed[] {
  const dir = join(dataDir, 'photographs')
  if (!existsSync(dir)) return []
  const names = readdirSync(dir).filter((name) => /^[0-9a-f]{64}-\d+\.webp$/.test(name))
  return names.sort().map((name) => ({ path: `photographs/${name}`, body: () => createReadStream(join(dir, name)) }))
}
