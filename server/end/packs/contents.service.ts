import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import type Database from 'better-sqlite3'
import { listCertificates } from '#bench/certificates/standing.service'
import { listRoster } from '#bench/units/roster.service'
import type { Db } from '#db/open'
import { exportTable } from '#gifts/parcels/export.service'
import { type Cell, writeCsv } from '#kernel/csv'
import { toIso } from '#kernel/instant'
import { type Currency, plainMoney } from '#kernel/money'
import { readDesk } from '#money/documents/desk.service'
import { showNumber } from '#money/documents/document-words.rules'
import { listSoldLots } from '#money/journal/sold.service'
import type { PaperOrder } from '#paper/order'
import { findCampaign, getCampaign } from '#people/campaign/campaign.service'
import { inCampaign, listCampaigns } from '#people/campaign/which.service'
import { type Address, matchAddress } from '#runtime/call/address'
import { isKeptFile } from '#runtime/disk/house-files'
import type { Actor, Sight } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { sealedRows } from '#sale/lots/sealed-rows'
import { accountSheet } from '../statement/account.service'
import type { PackedRow } from './manifest.contract'
import { readMe } from './read-me.rules'
import { readSheet, SHEETS, type SheetRow } from './sheets.store'
import { packedRow } from './tables.rules'
import { lotNumbers, rowsOf } from './tables.store'
import { type Body, bodyOfFile } from './zip-writer'

/** What is needed to make a pack and is known further up in the house only. Whoever asks for a pack hands it in. */
export interface PackMeans {
  /** What the house shows, and where. */
  addresses: readonly Address[]
  setPaper(order: PaperOrder): Promise<Uint8Array>
  /** Deletes contact data from a copy of the database; answers the photographs that are contact data too. */
  deleteContacts(copy: Db): ReadonlySet<string>
}

export interface Packed {
  path: string
  body: () => Body | Promise<Body | null>
}

export interface PackSource {
  sight: Sight
  handle: Database.Database
  means: PackMeans
  tables: readonly string[]
  /** Whether lots are still open, so that sealed maxima have to be taken out of the rows. */
  isSealed: boolean
  /** The person in whose name those papers are asked for that only some people may have. */
  reader: Actor
  dataDir: string
  /** The migrations of the database with their comments, which say what each table is. */
  schema: string
  leftOut: readonly string[]
}

/** Everything that goes into a pack, in its order; each body is made when its turn comes. */
export function packContents(source: PackSource): Packed[] {
  const { sight, tables, schema, leftOut } = source
  return [
    { path: 'README.txt', body: () => readMe({ campaign: findCampaign(sight)?.name ?? '', madeAt: toIso(sight.now), leftOut }) },
    { path: 'tables/schema.sql', body: () => schema },
    ...tables.map((table) => ({ path: `tables/${table}.json`, body: () => tableBody(source, table) })),
    ...sheets(source),
    ...views(source),
    ...photographs(source),
    { path: 'keys/public-keys.json', body: () => JSON.stringify(sight.keys.jwks(), null, 1) },
  ]
}

/** A JSON list with one row on each line, so that it can be read as a whole and line by line. */
function* tableBody({ sight, handle, isSealed }: PackSource, table: string): Generator<string> {
  const rows = sealedRows(sight.keys, lotNumbers(handle))
  let before = '[\n'
  for (const row of rowsOf(handle, table)) {
    yield `${before}${JSON.stringify(rows.opened(table, packedRow(table, row, isSealed)) satisfies PackedRow)}`
    before = ',\n'
  }
  yield before === '[\n' ? '[]\n' : '\n]\n'
}

function sheets({ sight, handle }: PackSource): Packed[] {
  const money = moneyOf(sight)
  const own = Object.entries(SHEETS).map(([name, sql]) => ({
    path: `csv/${name}.csv`,
    body: () => {
      const { head, rows } = readSheet(handle, sql)
      return writeCsv(
        head.map((name) => name.replace(/ minor$/, '')),
        rows.map((row) => head.map((name) => cellOf(name, row, money))),
      )
    },
  }))
  const lists = (['donors', 'gifts', 'parcels'] as const).map((what) => ({
    path: `csv/${what}.csv`,
    body: () => exportTable(sight, what).text,
  }))
  return [...lists, ...own]
}

/** Amounts in major units of the campaign's currency, which is asked for when there is an amount. */
function moneyOf(sight: Sight): (amount: number) => number {
  let currency: Currency | null = null
  return (amount) => {
    currency ??= getCampaign(sight).currency
    return Number(plainMoney(amount, currency))
  }
}

function cellOf(name: string, row: SheetRow, money: (amount: number) => number): Cell {
  const value = row[name] ?? null
  if (typeof value !== 'number') return value
  if (name.endsWith(' minor')) return money(value)
  return name.endsWith(' at') ? toIso(value) : value
}

/** Data, certificates, histories and papers, each as the house shows it at its address. */
function views(source: PackSource): Packed[] {
  const { sight, reader, means } = source
  const ask = (address: string, path: string): Packed => ({ path, body: () => answerOf(means, sight, reader, address) })
  return [
    ...viewsOfCampaign(source, ''),
    ...listCampaigns(sight).flatMap(({ number, slug, endedAt }) =>
      endedAt === null ? [] : viewsOfCampaign({ ...source, sight: inCampaign(sight, number) }, `campaigns/${slug}/`),
    ),
    ...listCertificates(sight).flatMap(({ serial }) => [
      ask(`/certificates/${serial}.json`, `certificates/${serial}.json`),
      ask(`/certificates/${serial}.pdf`, `papers/certificates/${serial}.pdf`),
    ]),
    ...listRoster(sight).map(({ tag }) => ask(`/units/${tag}/record.json`, `records/${tag}.json`)),
    ask('/bench/record/changes.csv', 'csv/changes.csv'),
  ]
}

/** What is one campaign's own, in a folder of its own where that is an earlier one; what goes by the number of a lot stands with all the others. */
function viewsOfCampaign({ sight, reader, means }: PackSource, folder: string): Packed[] {
  const ask = (address: string, path: string): Packed => ({ path, body: () => answerOf(means, sight, reader, address) })
  return [
    ...['proceeds.json', 'lots.json', 'credits.json'].map((name) => ask(`/${name}`, `${folder}public/${name}`)),
    ask('/programme.ics', `${folder}public/programme.ics`),
    ...listLots(sight)
      .filter(({ ledgerSize }) => ledgerSize > 0)
      .map(({ number }) => ask(`/lots/${number}/history.json`, `histories/lot-${number}.json`)),
    ask('/bench/close-out/statement.pdf', `${folder}papers/statement.pdf`),
    { path: `${folder}csv/statement.csv`, body: () => accountSheet(sight).text },
    ...listSoldLots(sight).map(({ number }) => ask(`/lots/${number}/invoice.pdf`, `papers/invoices/lot-${number}.pdf`)),
    ...readDesk(sight, reader).documents.map(({ number, lots }) =>
      ask(`/lots/${lots[0]}/invoices/${number}.pdf`, `papers/invoices/no-${showNumber(number)}.pdf`),
    ),
  ]
}

/** Null where the house shows nothing there. */
async function answerOf({ addresses, setPaper }: PackMeans, sight: Sight, reader: Actor, path: string): Promise<Body | null> {
  const match = matchAddress(addresses, path)
  const answer = match?.address.answer(sight, match.params, new URLSearchParams(), reader)
  if (!answer) return null
  return typeof answer.body === 'object' && 'print' in answer.body ? setPaper(answer.body.print) : answer.body
}

function photographs({ dataDir }: PackSource): Packed[] {
  const dir = join(dataDir, 'photographs')
  if (!existsSync(dir)) return []
  const names = readdirSync(dir).filter(isKeptFile)
  return names.sort().map((name) => ({ path: `photographs/${name}`, body: () => bodyOfFile(join(dir, name)) }))
}
