import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { signedList } from '#bench/certificates/status.service'
import { HOUR } from '#kernel/instant'
import { openToldHouse } from '#test/make/told-house'
import type { Stage } from '#test/stage'
import { verifySigned } from '#test/verifier/verify-certificate'

interface Taken {
  tag: string
  seq: number
  key: string
  kind: string
  entry: string
  at: number
}

function groupedBy(readings: readonly Taken[], name: 'tag' | 'key'): Taken[][] {
  const names = [...new Set(readings.map((one) => one[name]))]
  return names.map((value) => readings.filter((one) => one[name] === value))
}

/** The bench of the demo: what a reader of its records must be able to believe. */
describe('the work that the demo tells of', () => {
  let stage: Stage
  let readings: Taken[]
  beforeAll(async () => {
    stage = await openToldHouse()
    readings = stage.db.$client
      .prepare(
        `SELECT unit.tag, reading.seq, reading.check_key AS key, check_step.kind, reading.entry, reading.at
         FROM reading JOIN unit ON unit.id = reading.unit_id JOIN run ON run.id = unit.run_id
         JOIN check_step ON check_step.design_id = coalesce(unit.design_id, run.design_id) AND check_step.key = reading.check_key
         ORDER BY unit.tag, reading.seq`,
      )
      .all() as Taken[]
  }, 240_000)
  afterAll(() => stage.close())

  const ofUnits = () => groupedBy(readings, 'tag')

  it('was done at times at which it can have been done: nothing of one unit at once, nothing before what came before it', () => {
    expect(ofUnits().length).toBeGreaterThan(10)
    for (const taken of ofUnits())
      for (const [index, one] of taken.entries())
        if (index > 0) expect(one.at, `${one.tag} ${one.key}`).toBeGreaterThan(taken[index - 1]?.at ?? 0)
  })

  it('had readings that are not the same to the last digit when they were taken again', () => {
    const measured = readings.filter(({ kind }) => kind === 'measure')
    const again = groupedBy(measured, 'tag').flatMap((taken) => groupedBy(taken, 'key').filter(({ length }) => length > 1))
    expect(again.length).toBeGreaterThan(10)
    for (const taken of again) expect(new Set(taken.map(({ entry }) => entry)).size, `${taken[0]?.tag} ${taken[0]?.key}`).toBe(taken.length)
  })

  it('had soaks that the house saw from their start to their end, and certificates that say so', () => {
    const rows = stage.db.$client.prepare('SELECT payload, protected, signature FROM certificate').all()
    const soaks = rows.flatMap((row) =>
      verifySigned(row, stage.sight().keys.jwks()).results.flatMap(
        ({ soak }: { soak: { hours: number; seen: string } | null }) => soak ?? [],
      ),
    )
    expect(soaks.length).toBeGreaterThan(4)
    for (const { hours, seen } of soaks) expect([hours >= 1, seen]).toEqual([true, 'observed'])
    const runs = stage.db.$client.prepare('SELECT started_at AS began, ended_at AS ended FROM soak_run').all() as {
      began: number
      ended: number
    }[]
    for (const { began, ended } of runs) expect(ended - began).toBeGreaterThanOrEqual(HOUR)
    expect(verifySigned(signedList(stage.sight()), stage.sight().keys.jwks()).certificates).toHaveLength(rows.length)
  })
})
