import type Database from 'better-sqlite3'

/**
 * Tables that people read, as one question each. A column named `… minor` is money and is written in the campaign's
 * currency, one named `… at` is an instant and is written in UTC.
 */
export const SHEETS: Readonly<Record<string, string>> = {
  units: `SELECT unit.tag AS unit, run.tag_prefix AS run, design.name AS design, design.revision AS revision, unit.at AS "begun at",
    unit.set_aside_at AS "set aside at", coalesce(unit.set_aside_reason, '') AS "set aside because"
    FROM unit JOIN run ON run.id = unit.run_id JOIN design ON design.id = coalesce(unit.design_id, run.design_id) ORDER BY unit.tag`,
  batches: `SELECT batch.code AS batch, part.name AS part, part.value AS value, coalesce(donor.id, '') AS donor, coalesce(batch.bought_from, '') AS "bought from",
    batch.marking AS marking, batch.date_code AS "date code", batch.quantity AS quantity, batch.bad AS bad, batch.state AS state, batch.at AS "came at"
    FROM batch JOIN part ON part.id = batch.part_id LEFT JOIN gift ON gift.id = batch.gift_id LEFT JOIN donor ON donor.id = gift.donor_id ORDER BY batch.number`,
  pieces: `SELECT piece.tag AS piece, batch.code AS batch, part.name AS part, piece.verdict AS verdict, piece.symptom AS symptom,
    coalesce(piece.image_sha256, '') AS image FROM piece JOIN batch ON batch.id = piece.batch_id JOIN part ON part.id = batch.part_id ORDER BY piece.number`,
  fittings: `SELECT unit.tag AS unit, fitting.designator AS designator, batch.code AS batch, coalesce(piece.tag, '') AS piece, fitting.kind AS kind,
    fitting.at AS "fitted at", fitting.out_at AS "taken out at", coalesce(fitting.out_reason, '') AS "taken out because"
    FROM fitting JOIN unit ON unit.id = fitting.unit_id JOIN batch ON batch.id = fitting.batch_id LEFT JOIN piece ON piece.id = fitting.piece_id
    ORDER BY unit.tag, fitting.at, fitting.designator`,
  readings: `SELECT unit.tag AS unit, reading.seq AS seq, reading.check_key AS "check", reading.at AS "taken at", reading.entry AS "as entered",
    reading.value AS value, reading.unit AS "unit of it", reading.lower AS lower, reading.upper AS upper, reading.expanded_uncertainty AS "expanded uncertainty",
    reading.verdict AS verdict, coalesce(reading.instrument_words, '') AS instrument, reading.revision AS revision
    FROM reading JOIN unit ON unit.id = reading.unit_id ORDER BY unit.tag, reading.seq`,
  certificates: `SELECT certificate.serial AS certificate, unit.tag AS unit, certificate.issued_at AS "issued at", certificate.kid AS "key",
    coalesce(certificate.superseded_by, '') AS "superseded by", certificate.withdrawn_at AS "withdrawn at", coalesce(certificate.withdrawn_reason, '') AS "withdrawn because"
    FROM certificate JOIN unit ON unit.id = certificate.unit_id ORDER BY certificate.issued_at, certificate.serial`,
  lots: `SELECT lot.number AS lot, lot.campaign_number AS campaign, lot.unit_tag AS unit, lot.title AS title, lot.state AS state, lot.opened_at AS "opened at", lot.ended_at AS "ended at",
    lot.opening_minor AS "opening minor", lot.low_minor AS "low estimate minor", lot.likely_minor AS "likely estimate minor", lot.high_minor AS "high estimate minor",
    lot.hammer_minor AS "hammer minor", lot.bids AS bids, lot.extensions AS extensions, lot.sold_where AS "sold", coalesce(lot.head_hash, '') AS "head of its history"
    FROM lot ORDER BY lot.number`,
  journal: `SELECT entry.seq AS entry, entry.campaign_number AS campaign, entry.value_on AS "value day", entry.at AS "written at", entry.kind AS kind, lot.number AS lot, posting.account AS account,
    posting.amount_minor AS "amount minor", entry.memo AS memo, entry.reference AS reference, taken.seq AS "takes back entry"
    FROM entry JOIN posting ON posting.entry_id = entry.id LEFT JOIN lot ON lot.id = entry.lot_id LEFT JOIN entry AS taken ON taken.id = entry.corrects_id
    ORDER BY entry.seq, posting.line`,
}

export type SheetRow = Record<string, string | number | null>

export const readSheet = (handle: Database.Database, sql: string): { head: string[]; rows: SheetRow[] } => {
  const question = handle.prepare(sql)
  return { head: question.columns().map(({ name }) => name), rows: question.all() as SheetRow[] }
}
