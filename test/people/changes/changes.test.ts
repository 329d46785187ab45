import { afterEach, beforeEach, expect, test } from 'vitest'
import { person } from '#db/schema/index'
import { isGoodIban } from '#money/invoices/iban.rules'
import { saveCampaign } from '#people/campaign/campaign.service'
import { CHANGE_KINDS } from '#people/changes/changes.contract'
import { changeSentence } from '#people/changes/changes.rules'
import { changesFile, noteChange } from '#people/changes/changes.service'
import { noteSigningKey } from '#people/changes/signing-key.service'
import { campaignForm, makeCampaign } from '#test/make/campaign'
import { makeBidder, makePreparedLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(async () => {
  stage = openStage()
  await makeCampaign(stage)
})
afterEach(() => stage.close())

const ALL = { kind: null, by: null, below: null }
const listed = async (choice: Partial<typeof ALL> | Record<string, unknown> = {}) =>
  (await stage.as('treasurer')).changes.list({ ...ALL, ...choice } as typeof ALL)
const sentences = async (choice = {}) => (await listed(choice)).entries.map(changeSentence)

const PAYMENT = {
  accountName: 'Long Bench workshop',
  iban: 'GB82 WEST 1234 5698 7654 32',
  bic: '',
  dueDays: '7',
  reminderDays: '2, 4, 7',
  remindersAlone: false,
  offerAfterDays: '10',
  offerOpenDays: '3',
} as const

test('a role that was given is recorded, with who gave it and what it was before', async () => {
  const maker = await stage.as('maker', 'Wilma Harrow')
  await maker.people.setRole({ email: 'oskar@longbench.example', role: 'host' })
  await maker.people.setRole({ email: 'oskar@longbench.example', role: 'volunteer' })
  await maker.people.setRole({ email: 'oskar@longbench.example', role: 'volunteer' })
  expect((await sentences({ kind: 'role' })).filter((words) => words.includes('oskar'))).toEqual([
    'Wilma Harrow changed the role of oskar (o…@longbench.example): host → volunteer',
    'Wilma Harrow set the role of oskar (o…@longbench.example): host',
  ])
})

test('a ceiling that was raised is recorded', async () => {
  const ada = await makeBidder(stage, 'Ada')
  await (await stage.as('host', 'Hester')).people.raiseCeiling({ paddle: ada.paddle })
  expect(await sentences({ kind: 'ceiling' })).toEqual([`Hester changed the ceiling of paddle ${ada.paddle}: £1,000.00 → £4,000.00`])
})

test('of the campaign each part that was changed is recorded, and none that stayed', async () => {
  const by = await stage.actor('maker', 'Wilma Harrow')
  await stage.command((turn) => saveCampaign(turn, campaignForm(turn.now, { causeName: 'The Other School', target: '4000' }), { by }))
  expect(await sentences({ kind: 'campaign', by: by.personId })).toEqual([
    'Wilma Harrow changed the target: £3,000.00 → £4,000.00',
    'Wilma Harrow changed the cause: Ferry Lane Repair School → The Other School',
  ])
})

test('terms, postage and keys are recorded by whoever may change them', async () => {
  const treasurer = await stage.as('treasurer', 'Tamsin')
  await treasurer.sending.saveTerms({ homeCountry: 'GB', volumetricDivisor: '5000', answerHours: '24', addressesKeptDays: '60' })
  const row = { zone: 'At home', countries: 'GB', upTo: '2000', amount: '6.20' }
  await treasurer.sending.saveBands({ rows: [row, { ...row, zone: 'Europe', countries: 'NO' }] })
  await treasurer.sending.saveBands({
    rows: [
      { ...row, amount: '7' },
      { ...row, zone: 'Europe', countries: 'NO' },
    ],
  })
  await treasurer.invoices.saveTerms({ ...PAYMENT, dueDays: '14', offerAfterDays: '20' })
  expect(await sentences({ by: (await stage.actor('treasurer', 'Tamsin')).personId })).toEqual([
    'Tamsin set the account of the campaign: Long Bench workshop, GB82…5432',
    'Tamsin changed when an unpaid lot may be offered to who came next: after 10 days → after 20 days',
    'Tamsin changed when an invoice is due: after 7 days → after 14 days',
    'Tamsin changed the table of postage: At home up to 2 kg £6.20 (GB) → At home up to 2 kg £7.00 (GB)',
    'Tamsin set the table of postage: At home up to 2 kg £6.20 (GB); Europe up to 2 kg £6.20 (NO)',
    'Tamsin changed how soon a problem is answered: 48 hours → 24 hours',
  ])

  const { number } = await makePreparedLot(stage)
  const maker = await stage.as('maker')
  await maker.lots.saveLadder({ lot: null, rows: [{ from: '0', step: '3' }] })
  await maker.deletion.setTerm({ days: 30 })
  await (await stage.as('host', 'Hester')).air.changeKey()
  expect(await sentences({ kind: 'key' })).toEqual(['Hester changed the key of the overlays'])
  expect((await sentences({ kind: 'terms' })).slice(0, 2)).toEqual([
    expect.stringMatching(/^maker changed how long contact data is kept: \d+ days → 30 days$/),
    'maker changed the ladder of the sale: from £0.00 by £2.00, from £50.00 by £5.00, from £100.00 by £10.00, from £500.00 by £25.00, from £1,000.00 by £50.00 → from £0.00 by £3.00',
  ])
  expect(await sentences({ kind: 'postage' })).toContain(
    `maker set the postage of lot ${number}: At home £12.00 (GB); Europe, tracked £18.00 (NO, DE, IE)`,
  )
})

test('the key that the house signs with is recorded at the start that it signs from', async () => {
  await stage.command(noteSigningKey)
  await stage.command(noteSigningKey)
  await stage.command((turn) => noteSigningKey({ ...turn, keys: { ...turn.keys, kid: 'another' } }))
  const { kid } = stage.house.keys
  expect(await sentences({ kind: 'key', by: 'house' })).toEqual([
    `The house changed the signing key of the house: ${kid} → another`,
    `The house set the signing key of the house: ${kid}`,
  ])
})

test('another account is recorded and told, however much of it stands as before', async () => {
  const treasurer = await stage.as('treasurer', 'Tamsin')
  await treasurer.invoices.saveTerms({ ...PAYMENT, bic: 'WESTGB2L' })
  // Both have valid check digits; they begin and end alike.
  await treasurer.invoices.saveTerms({ ...PAYMENT, bic: 'WESTGB2LXXX' })
  const [middle] = Array.from({ length: 97 * 97 }, (_, n) => `GB82WEST1${String(2_345_000 + n).padStart(7, '0')}985432`)
    .filter((iban) => isGoodIban(iban) && iban !== 'GB82WEST12345698765432')
    .slice(0, 1)
  await treasurer.invoices.saveTerms({ ...PAYMENT, bic: 'WESTGB2LXXX', iban: middle ?? '' })
  const said = (await sentences({ kind: 'account' })).reverse()
  expect(said.slice(0, 2)).toEqual([
    'Tamsin set the account of the campaign: Long Bench workshop, GB82…5432 at WESTGB2L',
    'Tamsin changed the account of the campaign: Long Bench workshop, GB82…5432 at WESTGB2L → Long Bench workshop, GB82…5432 at WESTGB2LXXX',
  ])
  expect(said[2]).toMatch(/another account that begins and ends alike$/)
})

test('whoever has not said their name is recorded by their address', async () => {
  const maker = await stage.as('maker', 'Wilma Harrow')
  await stage.command(({ db, now }) =>
    db
      .insert(person)
      .values({
        id: 'ghost',
        name: '',
        email: 'ghost@elsewhere.example',
        emailVerified: true,
        role: 'bidder',
        createdAt: new Date(now),
        updatedAt: new Date(now),
      })
      .run(),
  )
  await maker.people.setRole({ email: 'ghost@elsewhere.example', role: 'maker' })
  expect(await sentences({ kind: 'role' })).toContain('Wilma Harrow changed the role of g…@elsewhere.example: bidder → maker')
})

test('the ladder of one lot is recorded', async () => {
  const { number } = await makePreparedLot(stage)
  await (await stage.as('maker')).lots.saveLadder({ lot: number, rows: [{ from: '0', step: '3' }] })
  expect((await sentences({ kind: 'terms' }))[0]).toMatch(`maker changed the ladder of lot ${number}: from £0.00 by £2.00`)
})

test('a change that was refused leaves no record', async () => {
  const before = (await listed()).count
  await expect((await stage.as('treasurer')).invoices.saveTerms({ ...PAYMENT, iban: 'GB83 WEST 1234 5698 7654 32' })).rejects.toThrow()
  await expect((await stage.as('host')).people.raiseCeiling({ paddle: 404 })).rejects.toThrow('no such paddle')
  const { count } = await listed()
  // The host that was made for this test is one.
  expect(count).toBe(before + 1)
})

test('the record is never changed and never shortened', async () => {
  expect(() => stage.db.$client.exec("UPDATE change_record SET after = 'nothing'")).toThrow('never changed')
  expect(() => stage.db.$client.exec('DELETE FROM change_record')).toThrow('never removed')
})

test('a long record comes in pages, each entry once', async () => {
  const by = await stage.actor('maker')
  await stage.command((turn) => {
    for (let day = 0; day < 120; day++)
      noteChange(turn, by, { kind: 'terms', what: 'the days', before: `${day} days`, after: `${day + 1} days` })
  })
  const seen: number[] = []
  let below: number | null = null
  for (let page = 0; page < 3; page++) {
    const view = await listed({ kind: 'terms', below })
    expect(view.count).toBe(120)
    seen.push(...view.entries.map(({ seq }) => seq))
    below = view.next
  }
  expect(below).toBeNull()
  expect(new Set(seen).size).toBe(120)
  expect(seen).toEqual(seen.toSorted((a, b) => b - a))
})

test('the table holds every entry with its sentence, and whole what the sentence shortens', async () => {
  const by = await stage.actor('maker', 'Wilma Harrow')
  const howToPay = `Pay ${'slowly '.repeat(60)}`.trim()
  await stage.command((turn) => saveCampaign(turn, campaignForm(turn.now, { howToPay }), { by }))
  const { text } = changesFile(stage.sight())
  expect(text.split('\n')[0]).toContain('number,at,kind,by,role,sentence,what,before,after')
  expect(text).toContain(howToPay)
  const lines = stage.db.$client.prepare('SELECT count(*) FROM change_record').pluck().get()
  expect(text.trim().split('\n')).toHaveLength(Number(lines) + 1)
})

test('each kind that may be recorded is one that the database takes', async () => {
  await stage.actor('treasurer')
  await stage.command((turn) => {
    for (const kind of CHANGE_KINDS) noteChange(turn, null, { kind, what: 'something', before: '', after: 'else' })
  })
  for (const kind of CHANGE_KINDS) expect((await listed({ kind, by: 'house' })).entries[0]?.what).toBe('something')
})
