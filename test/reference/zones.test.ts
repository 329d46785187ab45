import { existsSync, readFileSync } from 'node:fs'
import { IANAZone } from 'luxon'
import { describe, expect, test } from 'vitest'
import { DAY, HOUR } from '#kernel/instant'
import { clockChangeWithin } from '#sale/programme/civil-time.rules'
import { rows } from './time.json'

const FROM = Date.parse('2026-01-01T00:00:00Z')
const TO = Date.parse('2028-01-01T00:00:00Z')
const ZONES = [...new Set(rows.filter((row) => row.kind === 'transition').map(({ zone }) => String(zone)))]

interface Change {
  at: number
  /** Seconds east of UTC from then on. */
  offset: number
}

/**
 * The changes of a zone as the machine's own tz data has them, the file read as RFC 8536 says: header, first block of
 * 32-bit times skipped, second block of 64-bit times, and for what lies beyond them the footer, which is left to the
 * machine's Intl. Null where the machine has none.
 */
function changesOnFile(zone: string): Change[] | null {
  const path = ['/usr/share/zoneinfo', '/usr/lib/zoneinfo', '/usr/share/lib/zoneinfo'].map((folder) => `${folder}/${zone}`).find(existsSync)
  if (!path) return null
  const file = readFileSync(path)
  if (file.toString('latin1', 0, 4) !== 'TZif' || file[4] === 0) return null
  const counts = (at: number) => Array.from({ length: 6 }, (_, index) => file.readUInt32BE(at + 20 + index * 4))
  const [utc1 = 0, std1 = 0, leap1 = 0, time1 = 0, type1 = 0, char1 = 0] = counts(0)
  const second = 44 + time1 * 5 + type1 * 6 + char1 + leap1 * 8 + std1 + utc1
  const [, , , times = 0] = counts(second)
  const body = second + 44
  return Array.from({ length: times }, (_, index) => {
    const type = file[body + times * 8 + index] ?? 0
    return { at: Number(file.readBigInt64BE(body + index * 8)) * 1000, offset: file.readInt32BE(body + times * 9 + type * 6) }
  })
}

/** The same from the machine's Intl, hour by hour and then to the millisecond. */
function changesByIntl(zone: string): Change[] {
  const format = new Intl.DateTimeFormat('en-US', { timeZone: zone, timeZoneName: 'longOffset' })
  const offsetAt = (at: number) => {
    const name = format.formatToParts(at).find(({ type }) => type === 'timeZoneName')?.value ?? ''
    const [, sign = '+', hours = '0', minutes = '0'] = /GMT(?:([+-])(\d\d):(\d\d))?/.exec(name) ?? []
    return (sign === '-' ? -1 : 1) * (Number(hours) * 3600 + Number(minutes) * 60)
  }
  const changes: Change[] = []
  for (let at = FROM; at < TO; at += HOUR) {
    if (offsetAt(at) === offsetAt(at + HOUR)) continue
    let [low, high] = [at, at + HOUR]
    while (high - low > 1) {
      const middle = Math.floor((low + high) / 2)
      if (offsetAt(middle) === offsetAt(low)) low = middle
      else high = middle
    }
    changes.push({ at: high, offset: offsetAt(high) })
  }
  return changes
}

/** As the programme would warn of them, day by day. */
function changesWarnedOf(zone: string): Change[] {
  const changes: Change[] = []
  for (let at = FROM; at < TO; at += DAY) {
    const change = clockChangeWithin(at, Math.min(at + DAY, TO) - 1, zone)
    if (change) changes.push({ at: change.at, offset: IANAZone.create(zone).offset(change.at) * 60 })
  }
  return changes
}

describe('changes of the clocks in 2026 and 2027, beside the machine’s own tz data', () => {
  test('the table has a zone that shifts by half an hour, one that never shifts and one with a quarter hour', () => {
    expect(ZONES).toEqual(expect.arrayContaining(['Australia/Lord_Howe', 'Asia/Kolkata', 'Pacific/Chatham']))
  })

  test.each(ZONES)('%s: the programme warns of each, to the millisecond, and of no other', (zone) => {
    const warned = changesWarnedOf(zone)
    expect(warned).toEqual(changesByIntl(zone))
    const onFile = changesOnFile(zone)?.filter(({ at }) => at >= FROM && at < TO) ?? []
    // A slim file leaves later years to its footer; what it does list must be there.
    expect(warned).toEqual(expect.arrayContaining(onFile))
    const published = rows
      .filter((row) => row.zone === zone && row.epoch_ms)
      .map((row) => ({ at: row.epoch_ms, offset: row.offset_after_s }))
    expect(warned).toEqual(expect.arrayContaining(published))
  })

  test('Lord Howe Island shifts by half an hour, four times in two years', () => {
    const shifts = changesWarnedOf('Australia/Lord_Howe').map(({ offset }) => offset)
    expect(shifts).toEqual([37_800, 39_600, 37_800, 39_600])
  })
})
