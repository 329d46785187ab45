import { createHash } from 'node:crypto'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { firstDifference } from '#bench/certificates/difference.rules'
import { certifiedRecord } from '#bench/certificates/record.service'
import { loadUnit } from '#bench/units/unit-state.service'
import type { Role } from '#kernel/role'
import { openStageDoor } from '#test/doors/web/open-door'
import { makeTestedUnit } from '#test/make/certified-unit'
import { makeWav } from '#test/make/sound'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
let tag: string
let serial: string
// One certified machine for all: building it takes longest.
beforeAll(async () => {
  stage = openStage()
  const unit = await makeTestedUnit(stage)
  tag = unit.tag
  serial = unit.serial
  door = await openStageDoor(stage)
}, 120_000)
afterAll(() => {
  door.close()
  stage.close()
})

const cookieOf = async (role: Role) => door.sessionOf((await stage.actor(role)).personId)
const send = async (path: string, body: Uint8Array, role: Role = 'volunteer') =>
  fetch(`${door.url}${path}`, {
    method: 'POST',
    body: new Uint8Array(body),
    headers: { origin: 'https://bench.example', cookie: await cookieOf(role) },
  })
const sha = async (path: string, body: Uint8Array) => ((await (await send(path, body)).json()) as { sha: string }).sha
const get = async (path: string, role?: Role) => fetch(`${door.url}${path}`, { headers: role ? { cookie: await cookieOf(role) } : {} })
const SWEEP = Buffer.from('Frequency (Hz),Level (dB)\n100,0\n1000,0.2\n10000,-3\n')
const FIRMWARE = Buffer.from([0x00, 0x20, 0xff, 0x3c, 0x2f])
const key = (words: string) => words.padEnd(24, '0')
const views = async () => (await stage.as('maker')).bringup.evidence({ tag })

describe('evidence is kept beside a reading, with it or later', () => {
  test('a sweep, an image of firmware, a picture and a sound, each by what it is; the reading and its certificate stay as they were', async () => {
    const volunteer = await stage.as('volunteer')
    const before = certifiedRecord(stage.sight(), loadUnit(stage.sight(), tag)).record
    const picture = await sharp({ create: { width: 40, height: 30, channels: 3, background: '#456' } })
      .png()
      .toBuffer()
    const pieces = [
      { kind: 'sweep', sha: await sha('/files/sweeps', SWEEP), ending: 'csv', name: 'sweep.csv', words: 'Input to output.' },
      { kind: 'firmware', sha: await sha('/files/images', FIRMWARE), ending: 'bin', name: 'rx.bin', words: 'Built from tag v3.' },
      { kind: 'picture', sha: await sha('/files/photographs', picture), ending: 'webp' },
      { kind: 'recording', sha: await sha('/files/recordings', makeWav()), ending: 'wav' },
    ] as const
    for (const [index, piece] of pieces.entries())
      await volunteer.bringup.addEvidence({ key: key(`e${index}`), tag, check: 'B9', ...piece })
    // Sent twice on a bad line, kept once.
    await volunteer.bringup.addEvidence({ key: key('e1'), tag, check: 'B9', ...pieces[1] })
    const kept = (await views()).filter(({ check }) => check === 'B9')
    expect(kept.map(({ kind }) => kind).sort()).toEqual(['firmware', 'picture', 'recording', 'sweep'])
    expect(kept.every(({ check, isShown, isOfEarlier }) => check === 'B9' && !isShown && !isOfEarlier)).toBe(true)
    expect(kept.find(({ kind }) => kind === 'sweep')?.sweep).toMatchObject({ across: 'Frequency (Hz)', rows: 3 })
    expect(kept.find(({ kind }) => kind === 'firmware')).toMatchObject({
      sha: createHash('sha256').update(FIRMWARE).digest('hex'),
      bytes: 5,
      words: 'Built from tag v3.',
    })
    expect(certifiedRecord(stage.sight(), loadUnit(stage.sight(), tag)).record).toEqual(before)
    expect((await (await stage.as('maker')).bringup.unit({ tag })).certificate).toBe(serial)
  })

  test('what is no sweep, what has not arrived and what is another kind is refused at the field', async () => {
    const volunteer = await stage.as('volunteer')
    const refused = await send('/files/sweeps', Buffer.from('Dear all,\nno figures here.\n'))
    expect(refused.status).toBe(400)
    expect(JSON.stringify(await refused.json())).toContain('not a table that can be drawn')
    expect((await send('/files/images', FIRMWARE, 'bidder')).status).toBe(403)
    const add = (piece: object) =>
      volunteer.bringup.addEvidence({ key: key('no'), tag, kind: 'sweep', ending: 'csv', sha: 'ab'.repeat(32), ...piece })
    await expect(add({})).rejects.toThrow('has not arrived')
    await expect(add({ kind: 'firmware', sha: await sha('/files/sweeps', SWEEP) })).rejects.toThrow('has not arrived')
    await expect(add({ sha: await sha('/files/sweeps', SWEEP), check: 'ZZ' })).rejects.toThrow('ZZ is not a check')
    await expect(add({ sha: await sha('/files/sweeps', SWEEP), readingId: 'of another' })).rejects.toThrow('not one of this machine')
  })
})

describe('what anybody sees of it is chosen piece by piece', () => {
  const add = async () => {
    const volunteer = await stage.as('volunteer')
    const one = { key: key('s'), tag, check: 'B9', kind: 'sweep', ending: 'csv', name: 'sweep.csv', words: 'Input to output.' } as const
    const sweep = await volunteer.bringup.addEvidence({ ...one, sha: await sha('/files/sweeps', SWEEP) })
    const other = { key: key('f'), tag, kind: 'firmware', ending: 'bin' } as const
    const firmware = await volunteer.bringup.addEvidence({ ...other, sha: await sha('/files/images', FIRMWARE) })
    return { sweep, firmware }
  }
  const shaOf = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex')

  test('on the record and the next certificate, with its hash; its file is given to nobody else before', async () => {
    const { sweep } = await add()
    const [maker, volunteer] = [await stage.as('maker'), await stage.as('volunteer')]
    await expect(volunteer.bringup.showEvidence({ id: sweep.id, isShown: true })).rejects.toThrow()
    const record = async () => (await get(`/units/${tag}/record.json`)).json() as Promise<{ evidence: { sha256: string }[] }>
    expect((await record()).evidence).toEqual([])
    const path = `/files/${shaOf(SWEEP)}.csv`
    expect([(await get(path)).status, (await get(path, 'bidder')).status, (await get(path, 'volunteer')).status]).toEqual([404, 404, 200])
    await maker.bringup.showEvidence({ id: sweep.id, isShown: true })
    expect((await record()).evidence).toMatchObject([{ check: 'B9', kind: 'sweep', sha256: shaOf(SWEEP), words: 'Input to output.' }])
    const given = await get(path)
    expect(Buffer.from(await given.arrayBuffer())).toEqual(SWEEP)
    expect(given.headers.get('content-disposition')).toContain('attachment')
    expect((await get(`/files/${shaOf(FIRMWARE)}.bin`)).status).toBe(404)
    expect((await stage.visitor().record.ofUnit({ tag })).evidence).toHaveLength(1)

    const again = await maker.certificates.issue({ tag })
    expect(again.serial).not.toBe(serial)
    const { payload } = await stage.visitor().certificates.show({ serial: again.serial })
    expect(payload.evidence).toEqual((await record()).evidence)
    expect(firstDifference(payload, (await record()) as never)).toBeNull()

    // What was signed and is hidden now is told by whoever compares.
    await maker.bringup.showEvidence({ id: sweep.id, isShown: false })
    expect(firstDifference(payload, (await record()) as never)?.words).toContain('the record does not show it any more')
    expect((await get(path)).status).toBe(404)
  })

  test('a piece that was taken away is nowhere any more', async () => {
    const { sweep, firmware } = await add()
    const maker = await stage.as('maker')
    await maker.bringup.showEvidence({ id: firmware.id, isShown: true })
    await maker.bringup.takeEvidenceAway({ id: firmware.id })
    const left = (await views()).map(({ id }) => id)
    expect([left.includes(sweep.id), left.includes(firmware.id)]).toEqual([true, false])
    expect((await stage.visitor().record.ofUnit({ tag })).evidence).toEqual([])
    await expect(maker.bringup.showEvidence({ id: firmware.id, isShown: true })).rejects.toThrow('gone already')
  })
})

describe('evidence that comes late', () => {
  test('a photograph that waited on a phone goes to its reading, also when that was corrected meanwhile', async () => {
    const volunteer = await stage.as('volunteer')
    const { checks } = await volunteer.bringup.unit({ tag })
    const reading = checks.find(({ key }) => key === 'B9')?.reading
    const meter = (await volunteer.bringup.instruments()).find(({ name }) => name === 'Bench meter no. 2')
    const hand = { key: key('slip'), tag, seen: tag, instrumentId: meter?.id }
    await volunteer.bringup.correct({ ...hand, check: 'B9', entry: '1.05', reason: 'Written wrongly.' })
    const late = await volunteer.bringup.addEvidence({
      ...{ key: key('late'), tag, readingId: reading?.id ?? '' },
      ...{ kind: 'sweep', ending: 'csv', sha: await sha('/files/sweeps', SWEEP) },
    })
    expect((await views()).find(({ id }) => id === late.id)).toMatchObject({ check: 'B9', isOfEarlier: true })
  })
})
