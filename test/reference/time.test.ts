import { DateTime } from 'luxon'
import { describe, expect, it } from 'vitest'
import { HOUR } from '#kernel/instant'
import { clockChangeWithin, fitCivil } from '#sale/programme/civil-time.rules'
import { rows } from './time.json'

const iso = (at: number) => new Date(at).toISOString().replace('.000Z', 'Z')
const resolutions = rows.filter((row) => row.kind === 'local_time_resolution')
const transitions = rows.filter((row) => row.kind === 'transition' && row.epoch_ms)

describe('civil times, against Temporal and tz data', () => {
  it.each(resolutions)('$local in $zone falls where Temporal puts it', (row) => {
    const fit = fitCivil(String(row.local).slice(0, 16), String(row.zone))
    expect(fit).not.toBeNull()
    if (!fit) return
    if (row.reject === 'accepted') {
      expect(fit).toEqual({ fits: 'once', at: Date.parse(String(row.compatible)) })
      return
    }
    if (fit.fits === 'once') throw new Error(`${row.local} in ${row.zone} is not plain`)
    expect(iso(fit.earlier)).toBe(row.earlier)
    expect(iso(fit.later)).toBe(row.later)
    // Temporal's "compatible": the earlier of a doubled hour, the later reading of one that is left out.
    expect(fit.fits).toBe(row.compatible === row.earlier ? 'twice' : 'never')
  })

  it.each(resolutions)('luxon offers the same instants for $local in $zone', (row) => {
    const fit = fitCivil(String(row.local).slice(0, 16), String(row.zone))
    const offered = DateTime.fromISO(String(row.local), { zone: String(row.zone) })
      .getPossibleOffsets()
      .map((time) => time.toMillis())
    if (fit?.fits === 'twice') expect(offered).toEqual([fit.earlier, fit.later])
    else if (fit?.fits === 'once') expect(offered).toEqual([fit.at])
    else expect(offered).toEqual([fit?.later])
  })

  it.each(transitions)('the change of $transition_utc in $zone is seen to the millisecond', (row) => {
    const at = Number(row.epoch_ms)
    const change = clockChangeWithin(at - 6 * HOUR, at + 6 * HOUR, String(row.zone))
    expect(change?.at).toBe(at)
    expect((change?.minutes ?? 0) * 60).toBe(Number(row.offset_after_s) - Number(row.offset_before_s))
    expect(clockChangeWithin(at, at + 6 * HOUR, String(row.zone))).toBeNull()
    expect(clockChangeWithin(at - 6 * HOUR, at - 1, String(row.zone))).toBeNull()
  })
})
