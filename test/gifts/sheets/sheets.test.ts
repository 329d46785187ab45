import { afterEach, beforeEach, expect, test } from 'vitest'
import { storeSheet } from '#gifts/sheets/store-sheet.service'
import { openStage } from '#test/stage'

let stage: ReturnType<typeof openStage>
beforeEach(async () => {
  stage = openStage({ now: Date.UTC(2027, 2, 10, 10) })
})
afterEach(() => stage.close())

const DONORS = `name,mail,gift,quantity,day,thanked
Ines Abreu,ines@abreu.example,crystals,20,2026-05-14,yes
Ines Abreu,ines@abreu.example,a case,1,2026-05-14,yes
Tomas Berg,,displays,ca. 6,2026-06-01,no
`

type Maker = Awaited<ReturnType<typeof stage.as>>

async function begun(maker: Maker, what: 'donors' | 'shelf' | 'machines', text: string, answers: Record<string, string> = {}) {
  const { id } = await maker.sheets.begin({ what, text, name: '' })
  const page = await maker.sheets.choose({ id, answers })
  return { id, digest: page.read?.digest ?? null, page }
}

async function storedSheet(maker: Maker, ...of: [what: 'donors' | 'shelf' | 'machines', text: string, answers?: Record<string, string>]) {
  const { id, digest, page } = await begun(maker, ...of)
  if (digest === null) throw new Error(JSON.stringify([page.read?.flaws, page.read?.questions]))
  await maker.sheets.store({ id, digest })
  return id
}

test('looking stores nothing; storing stores just what was shown', async () => {
  const maker = await stage.as('maker')
  const { id, digest, page } = await begun(maker, 'donors', DONORS, { 'all twin': 'one' })
  expect(page.read?.summary[0]).toBe('2 new donors, named nowhere until they have been asked')
  expect((await maker.donors.list()).donors).toEqual([])
  await maker.sheets.store({ id, digest: digest ?? '' })
  const { donors } = await maker.donors.list()
  expect(donors.map(({ name, consents }) => [name, consents])).toEqual([
    ['Ines Abreu', { page: false, stream: false, card: false }],
    ['Tomas Berg', { page: false, stream: false, card: false }],
  ])
  const parcels = await maker.parcels.list()
  expect(
    parcels.map(({ donorName, arrivedAt, lines }) => [
      donorName,
      new Date(arrivedAt).toISOString().slice(0, 10),
      lines.map(({ what }) => what),
    ]),
  ).toEqual([
    ['Tomas Berg', '2026-06-01', ['displays']],
    ['Ines Abreu', '2026-05-14', ['crystals', 'a case']],
  ])
  // Whoever was thanked before is not on the list of thanks that are due.
  expect((await maker.outcome.thanksDue()).map(({ donorName }) => donorName)).toEqual(['Tomas Berg'])
})

test('what a sheet held is gone once it is stored', async () => {
  const maker = await stage.as('maker')
  const id = await storedSheet(maker, 'donors', DONORS, { 'all twin': 'one' })
  const row = stage.db.$client.prepare('SELECT * FROM sheet WHERE id = ?').get(id)
  expect(row).toMatchObject({ state: 'stored', base64: null, pasted: null, plan: null, answers: '{}' })
  expect(JSON.stringify(row)).not.toContain('abreu')
})

test('a sheet that was begun is found again with all that was answered, and can be thrown away', async () => {
  const maker = await stage.as('maker')
  const { id } = await begun(maker, 'donors', DONORS, { 'all twin': 'one' })
  expect((await maker.sheets.list()).map((one) => [one.id, one.state])).toEqual([[id, 'open']])
  expect((await maker.sheets.read({ id })).answers).toEqual({ 'all twin': 'one' })
  await maker.sheets.drop({ id })
  expect(await maker.sheets.list()).toEqual([])
  await expect(maker.sheets.read({ id })).rejects.toThrow('There is no such sheet.')
})

test('a sheet with something open is not stored, and none of it is', async () => {
  const maker = await stage.as('maker')
  const { id, digest } = await begun(maker, 'donors', DONORS)
  expect(digest).toBeNull()
  await expect(maker.sheets.store({ id, digest: 'a'.repeat(64) })).rejects.toThrow('Something is still to be corrected or answered.')
  expect((await maker.donors.list()).donors).toEqual([])
})

test('what has changed in the house since it was shown is shown again before anything is stored', async () => {
  const maker = await stage.as('maker')
  const { id, digest } = await begun(maker, 'donors', DONORS, { 'all twin': 'one', 'all here': 'same' })
  await maker.donors.add({ name: 'Tomas Berg' })
  await expect(maker.sheets.store({ id, digest: digest ?? '' })).rejects.toThrow('What would be stored is no longer what you were shown')
  expect((await maker.donors.list()).donors).toHaveLength(1)
})

test('stored twice at once it is stored once', async () => {
  const maker = await stage.as('maker')
  const { id, digest } = await begun(maker, 'donors', DONORS, { 'all twin': 'one' })
  const both = await Promise.allSettled([
    maker.sheets.store({ id, digest: digest ?? '' }),
    maker.sheets.store({ id, digest: digest ?? '' }),
  ])
  expect(both.filter(({ status }) => status === 'fulfilled').length).toBeGreaterThan(0)
  expect((await maker.donors.list()).donors).toHaveLength(2)
  expect(await maker.parcels.list()).toHaveLength(2)
})

test('the same sheet again is known, and is stored again only when that is said', async () => {
  const maker = await stage.as('maker')
  const sheet = 'part,quantity\n4k7,30\n'
  await storedSheet(maker, 'shelf', sheet, { source: 'own' })
  const again = await begun(maker, 'shelf', sheet, { source: 'own' })
  expect(again.digest).toBeNull()
  expect(again.page.read?.questions.map(({ words }) => words)).toContain(
    'A sheet that says the very same was stored here before. Store all of it once more?',
  )
})

test('a long sheet is stored in many turns, and finished by itself where the house was closed over it', async () => {
  const maker = await stage.as('maker')
  const rows = Array.from({ length: 200 }, (_, at) => `Donor ${at},d${at}@many.example`).join('\n')
  const { id, digest } = await begun(maker, 'donors', `name,mail\n${rows}\n`)
  let turns = 0
  const closing = {
    sheetReader: stage.house.sheetReader,
    sight: stage.sight,
    command: async <T>(work: Parameters<typeof stage.command<T>>[0]): Promise<T> => {
      turns += 1
      if (turns === 4) throw new Error('the house closes')
      return stage.command(work)
    },
  }
  await expect(storeSheet(closing, await stage.actor('maker'), { id, digest: digest ?? '' })).rejects.toThrow('the house closes')
  const half = await maker.sheets.read({ id })
  expect([half.state, half.items]).toEqual(['storing', 200])
  expect(half.done).toBeGreaterThan(0)
  expect(half.done).toBeLessThan(200)
  // Nobody can throw away the other half.
  await expect(maker.sheets.drop({ id })).rejects.toThrow('stored already')
  const { sheetSweep } = await import('#gifts/sheets/store-sheet.service')
  expect(sheetSweep.nextAt(stage.sight())).not.toBeNull()
  stage.clock.pass(6_000)
  for (let times = 0; times < 40 && (await maker.sheets.read({ id })).state !== 'stored'; times++) {
    await stage.command((turn) => sheetSweep.run(turn))
    stage.clock.pass(6_000)
  }
  expect((await maker.sheets.read({ id })).state).toBe('stored')
  expect((await maker.donors.list()).donors).toHaveLength(200)
})

test('a donor who was merged into another since the sheet was begun gets it in the record that was kept', async () => {
  const maker = await stage.as('maker')
  const one = await maker.donors.add({ name: 'Ines Abreu' })
  const other = await maker.donors.add({ name: 'Inés A.' })
  const sheet = 'name,gift,quantity,day,thanked\nInes Abreu,a case,1,2026-05-14,yes\n'
  const { id, digest } = await begun(maker, 'donors', sheet, { 'all here': 'same' })
  const storing = storeSheet(
    {
      sheetReader: stage.house.sheetReader,
      sight: stage.sight,
      command: async (work) => {
        const result = await stage.command(work)
        if ((await maker.sheets.read({ id })).state === 'storing') {
          const { donors: before } = await maker.donors.list()
          if (before.length === 2) await maker.parcels.mergeDonors({ keptId: other.id, goneId: one.id })
        }
        return result
      },
    },
    await stage.actor('maker'),
    { id, digest: digest ?? '' },
  )
  await storing
  expect((await maker.parcels.list()).map(({ donorId }) => donorId)).toEqual([other.id])
})

test('the shelf gets its batches with their places, and a guess stays one until it is counted', async () => {
  const maker = await stage.as('maker')
  const sheet = 'part,quantity,shelf,from,day\n4k7,ca. 30,drawer 4,,\n100n,not counted yet,,,\n10k,12,,Ines Abreu,2026-05-14\n'
  await storedSheet(maker, 'shelf', sheet, { source: 'own', 'all giver': 'donor', thanked: 'no' })
  const { batches } = await maker.shelf.search({ words: '' })
  expect(batches.map(({ place, howCounted, quantity, donorId }) => [place, howCounted, quantity, donorId !== null])).toEqual(
    expect.arrayContaining([
      ['drawer 4', 'about', 30, false],
      ['', 'not yet', 0, false],
      ['', 'counted', 12, true],
    ]),
  )
})

test('machines from before stand on a page of their own and can be taken away again', async () => {
  const maker = await stage.as('maker')
  await storedSheet(
    maker,
    'machines',
    'design,serial,hours,raised,currency,fate\nTern TR-1,1,10,120.00,EUR,sold\nTern TR-1,2,20,100.00,GBP,sold\n',
  )
  const { machines, designs } = await maker.earlier.read()
  expect(designs).toEqual([
    {
      design: 'Tern TR-1',
      machines: 2,
      timed: 2,
      meanMinutes: 900,
      raised: expect.arrayContaining([
        { currency: 'EUR', machines: 1, minor: 12_000 },
        { currency: 'GBP', machines: 1, minor: 10_000 },
      ]),
    },
  ])
  await maker.earlier.forget({ id: machines[0]?.id ?? '' })
  expect((await maker.earlier.read()).machines).toHaveLength(1)
})
