import type { Stage } from '#test/stage'
import type { Hints } from './shapes'

/** Words for the fields of forms out of a house's own rows, so that what is made for a procedure reaches its rules. */
export async function hintsOf(stage: Stage): Promise<Hints> {
  const column = (sql: string): (string | number)[] =>
    stage.db.$client
      .prepare(sql)
      .pluck()
      .all()
      .filter((value): value is string | number => typeof value === 'string' || typeof value === 'number')
  const ids = (table: string) => column(`SELECT id FROM ${table} ORDER BY random() LIMIT 60`)
  const lots = column('SELECT number FROM lot')
  const openLots = column("SELECT number FROM lot WHERE state IN ('open', 'held')")
  const units = column('SELECT tag FROM unit')
  const donors = ids('donor')
  const maker = await stage.as('maker')
  const sheets = await Promise.all(ids('design').map((id) => maker.designs.sheets({ id: String(id) })))
  const checklists: unknown[] = sheets.map(({ checklist }) => checklist)
  const feeds: unknown[] = sheets.map((sheet) => sheet.feeds)
  const lists = [{ name: 'parts.csv', text: 'Designators,Part,Quantity\nR1,4k7,1\nR2,10k,1\n' }]
  const blocks = ['clock', 'logic', 'supply']
  const amounts = ['50', '210.00', '1,240.50', '75', '1000']
  return {
    lot: lots,
    'bidding.lot': [...openLots, ...openLots, ...lots],
    'eitherOr.lot': openLots,
    number: lots,
    tag: [...units, ...column('SELECT tag FROM piece WHERE tag IS NOT NULL LIMIT 40')],
    'bringup.tag': units,
    'faults.tag': units,
    'certificates.tag': units,
    'record.tag': units,
    'credits.tag': units,
    seen: units,
    unit: units,
    unitId: ids('unit'),
    unitIds: ids('unit'),
    onlyForUnitId: ids('unit'),
    onlyForDesignId: ids('design'),
    designId: ids('design'),
    'designs.id': ids('design'),
    'outbox.id': ids('letter'),
    'bringup.id': ids('instrument'),
    'designs.checklist': checklists,
    'designs.feeds': feeds,
    'designs.sheet': lists,
    'designs.partsList': lists,
    base64: [undefined],
    eitherOr: ids('chain'),
    fromDesignId: ids('design'),
    runId: ids('run'),
    prefix: column('SELECT tag_prefix FROM run'),
    check: column('SELECT DISTINCT check_key FROM reading LIMIT 60'),
    failedCheck: column('SELECT DISTINCT check_key FROM reading LIMIT 60'),
    designator: column('SELECT DISTINCT designator FROM fitting LIMIT 60'),
    block: blocks,
    blocks,
    instrumentId: ids('instrument'),
    batchId: ids('batch'),
    inBatchId: ids('batch'),
    pieceId: ids('piece'),
    pieceTag: column('SELECT tag FROM piece WHERE tag IS NOT NULL LIMIT 40'),
    inPieceTag: column('SELECT tag FROM piece WHERE tag IS NOT NULL LIMIT 40'),
    partId: ids('part'),
    lineId: ids('parts_line'),
    'bank.lineId': ids('bank_line'),
    donorId: donors,
    keptId: donors,
    goneId: donors,
    giftId: ids('gift'),
    giftIds: ids('gift'),
    parcelId: ids('parcel'),
    promiseId: [...ids('gift'), ...ids('match_promise')],
    personId: ids('person'),
    email: column('SELECT email FROM person LIMIT 40'),
    paddle: column('SELECT number FROM paddle'),
    alias: column('SELECT DISTINCT alias FROM bid LIMIT 60'),
    chain: ids('chain'),
    itemId: ids('programme_item'),
    firstId: ids('programme_item'),
    secondId: ids('programme_item'),
    guest: ids('programme_item'),
    wishId: ids('day_wish'),
    entryId: ids('entry'),
    problemId: ids('problem'),
    offerId: ids('second_offer'),
    noticeId: ids('quarantine_notice'),
    id: ids('passkey'),
    serial: column('SELECT serial FROM certificate'),
    sha: column('SELECT sha FROM photograph LIMIT 20'),
    photoSha: column('SELECT sha FROM photograph LIMIT 20'),
    maximum: amounts,
    amount: amounts,
    hammer: amounts,
    opening: amounts,
    reserve: amounts,
    low: amounts,
    likely: amounts,
    high: amounts,
    target: amounts,
    from: ['0', ...amounts],
    step: ['1', '5', '10'],
    // What takes long is asked for in small, so that many are asked.
    days: ['200', '30', 30],
    zone: ['Europe/London', 'Asia/Tokyo', 'At home'],
    country: ['GB', 'NO', 'DE'],
    countries: ['GB', 'NO, DE'],
    entry: ['5.02', '12 ok', 'yes', '4.98 V', '31.2m'],
    written: ['5.02', '4980 mV'],
    meter: ['±(0.5 % + 2 digits)'],
    accuracy: ['±(0.5 % + 2 digits)', '±1 %'],
    quantity: ['1', '2', 3],
    value: ['4k7', '100n', '120.00'],
    iban: ['GB82 WEST 1234 5698 7654 32', ''],
    bic: ['', 'ABCDGB2L'],
    topics: ['lots'],
    text: [
      'Designators,Part,Quantity\nR1,4k7,1\nR2,10k,1\n',
      'Date,Amount,Words\n2027-03-14,62.00,LOT 1\n',
      'Zone,Countries,Up to,Amount\nHome,GB,2 kg,12\n',
    ],
  }
}
