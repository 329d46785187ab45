import { preparedFor } from '#db/prepared'

export interface UnitRow {
  unitId: string
  tag: string
  designId: string
  designName: string
}

export interface LineRow {
  designId: string
  lineId: string
  partId: string
  positions: number
}

export interface FittedRow {
  unitId: string
  lineId: string
  fitted: number
}

/** Lines are counted once for a design and what is fitted once for a unit: each position of each unit would be tens of thousands of rows. */
export const needsFrom = preparedFor(({ $client }) => ({
  /** Units that are not set aside, in the order of runs and numbers. */
  units: $client.prepare<[], UnitRow>(
    `SELECT unit.id AS unitId, unit.tag, design.id AS designId, design.name AS designName
     FROM unit JOIN run ON run.id = unit.run_id JOIN design ON design.id = coalesce(unit.design_id, run.design_id)
     WHERE unit.set_aside_at IS NULL ORDER BY run.at, run.tag_prefix, unit.number`,
  ),
  lines: $client.prepare<[string], LineRow>(
    `SELECT design_id AS designId, line_id AS lineId, min(part_id) AS partId, count(*) AS positions
     FROM position WHERE design_id = ? GROUP BY line_id ORDER BY min(rowid)`,
  ),
  fitted: $client.prepare<[], FittedRow>(
    `SELECT fitting.unit_id AS unitId, position.line_id AS lineId, count(*) AS fitted
     FROM fitting JOIN unit ON unit.id = fitting.unit_id JOIN run ON run.id = unit.run_id
     JOIN position ON position.design_id = coalesce(unit.design_id, run.design_id) AND position.designator = fitting.designator
     WHERE fitting.out_at IS NULL AND unit.set_aside_at IS NULL GROUP BY fitting.unit_id, position.line_id`,
  ),
}))
