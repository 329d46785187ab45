import fc from 'fast-check'
import { afterEach, expect, it } from 'vitest'
import { currentCertificate } from '#bench/certificates/standing.service'
import { keepSweep } from '#end/deletion/keep.service'
import { readAccount } from '#end/statement/account.service'
import { civilOf } from '#kernel/civil'
import { DAY, MINUTE } from '#kernel/instant'
import { plainMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { readBooks } from '#money/books/books.service'
import { inCampaign, listCampaigns } from '#people/campaign/which.service'
import { closeDueLots } from '#sale/closings/close-due.service'
import { checkHistory } from '#sale/history/check-history.rules'
import { readHistory } from '#sale/history/history.service'
import { campaignOfLot, listLots } from '#sale/lots/lots.service'
import { campaignForm } from '#test/make/campaign'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { makeDonor } from '#test/make/shelf'
import { formKey } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const YEARS = 3
/** How many lives; a longer run with LIVES=50. */
const LIVES = Number(process.env.LIVES ?? 2)

const VERBS = [
  'pay',
  'give',
  'cost',
  'remit',
  'fall through',
  'reduce',
  'price',
  'yes to the price',
  'correct',
  'unknown',
  'ask',
  'late',
] as const
const step = fc.record({ verb: fc.constantFrom(...VERBS), minor: fc.integer({ min: 1, max: 9_000 }), pick: fc.nat() })
const life = fc.array(fc.array(step, { minLength: 6, maxLength: 10 }), { minLength: YEARS, maxLength: YEARS })

/** The journal of each campaign, by its number. */
const journals = async () => {
  const actor = await stage.actor('treasurer')
  return new Map(listCampaigns(stage.sight()).map(({ number }) => [number, readBooks(inCampaign(stage.sight(), number), actor)]))
}

/** What holds of every campaign, whichever is the present one. */
async function holds(): Promise<void> {
  const all = await journals()
  const entries = [...all.values()].flatMap(({ journal }) => journal.map(({ id }) => id))
  // Each entry is of one campaign, and none of none.
  expect(new Set(entries).size).toBe(entries.length)
  expect(entries.length).toBe(stage.db.$client.prepare('SELECT count(*) FROM entry').pluck().get())
  for (const [number, { journal, statement, meter }] of all) {
    const sight = inCampaign(stage.sight(), number)
    expect(statement.varianceAt).toEqual([])
    expect(readAccount(sight).varianceAt).toEqual([])
    const { bidMinor, wonMinor, paidMinor, remittedMinor } = meter
    expect(bidMinor + wonMinor + paidMinor + remittedMinor).toBe(meter.countedMinor)
    for (const { lot } of journal) if (lot !== null) expect(campaignOfLot(sight, lot)).toBe(number)
    for (const one of listLots(sight)) {
      expect(campaignOfLot(sight, one.number)).toBe(number)
      if (one.ledgerSize > 0)
        expect(checkHistory(JSON.parse(JSON.stringify(readHistory(sight, one.number)))).filter(({ isSound }) => !isSound)).toEqual([])
      expect(currentCertificate(sight, one.unitId)).not.toBeNull()
    }
  }
}

it('three years of a house: money of one campaign never shows in another’s, histories hold, and nothing of who was forgotten is left', async () => {
  await fc.assert(
    fc.asyncProperty(life, async (years) => {
      stage = openStage()
      const [maker, treasurer] = [await stage.as('maker'), await stage.as('treasurer')]
      const gone: string[] = []
      let lots: number[] = []
      for (const [year, steps] of years.entries()) {
        const names = [`Ada-${year}`, `Bo-${year}`]
        const made = [
          await makeOpenLot(stage, { tag: `TERN-${11 + year * 2}` }),
          await makeOpenLot(stage, { tag: `TERN-${12 + year * 2}` }),
        ]
        const [ada, bo] = [await makeBidder(stage, names[0] ?? ''), await makeBidder(stage, names[1] ?? '')]
        await makeDonor(stage, `Donor ${year}`, { contact: `donor-${year}@gifts.example` })
        for (const { number } of made) {
          await bo.bid(number, '48')
          await ada.bid(number, '60')
        }
        stage.clock.set(Math.max(...made.map(({ closesAt }) => closesAt)) + 600_000)
        await stage.command(closeDueLots)
        lots = [...lots, ...made.map(({ number }) => number)]
        for (const { verb, minor, pick } of steps) {
          const before = await journals()
          const lot = lots[pick % lots.length] ?? 1
          const of = campaignOfLot(stage.sight(), lot) ?? 0
          const form = { key: formKey(), amount: plainMoney(minor, 'GBP'), reference: '', on: '' }
          const why = 'A step of many.'
          let touched = of
          try {
            switch (verb) {
              case 'pay':
                await treasurer.booking.pay({ ...form, lot })
                break
              case 'fall through':
                await treasurer.booking.fallThrough({ key: form.key, lot, why })
                break
              case 'reduce':
                await treasurer.booking.reduce({ key: form.key, lot, amount: form.amount, why })
                break
              case 'price':
                await maker.fixedPrice.offer({ key: form.key, lot, amount: form.amount, lastDay: '', cancelWords: 'Write to the seller.' })
                break
              case 'yes to the price': {
                const { seen } = await bo.caller.fixedPrice.mine({ lot })
                const priceMinor = (await bo.caller.fixedPrice.of({ lot }))?.priceMinor ?? 1
                await bo.caller.fixedPrice.take({ key: form.key, lot, priceMinor, seen: seen || '0'.repeat(64) })
                break
              }
              case 'late': {
                // The treasurer goes to work in an earlier campaign, books there, and comes back.
                const line = (await treasurer.nextCampaign.lines())[pick % (year + 1)]
                await treasurer.nextCampaign.workIn({ slug: line?.slug ?? '' })
                touched = year + 1 - (pick % (year + 1))
                await treasurer.booking
                  .cameUnknown({ ...form, from: 'Somebody late' })
                  .finally(() => treasurer.nextCampaign.workIn({ slug: '' }))
                break
              }
              case 'correct': {
                const all = [...before.values()].flatMap(({ journal }) => journal)
                const entry = all[pick % Math.max(1, all.length)]
                touched = [...before].find(([, { journal }]) => journal.some(({ id }) => id === entry?.id))?.[0] ?? 0
                await treasurer.booking.correct({ key: form.key, entryId: entry?.id ?? 'none', why })
                break
              }
              default:
                touched = year + 1
                if (verb === 'give') await treasurer.booking.give({ ...form, from: 'A friend' })
                if (verb === 'cost')
                  await treasurer.booking.cost({
                    ...form,
                    what: 'Something',
                    about: 'parts',
                    paidFrom: 'bank',
                    bearer: 'seller',
                    lot: made[0]?.number,
                  })
                if (verb === 'remit') await treasurer.booking.remit(form)
                if (verb === 'unknown') await treasurer.booking.cameUnknown({ ...form, from: 'Somebody' })
                if (verb === 'ask' && year > 0) {
                  await maker.deletion.askToKeep({ answerBy: civilOf(stage.clock.now() + 21 * DAY, 'Europe/London').slice(0, 10) })
                  gone.push(`donor-${year - 1}@gifts.example`)
                }
            }
          } catch (reason) {
            if (!(reason instanceof Error && 'cause' in reason && reason.cause instanceof Refusal)) throw reason
          }
          const after = await journals()
          // Whatever was done, no other campaign has it.
          for (const [number, books] of before) if (number !== touched) expect(after.get(number)?.journal).toEqual(books.journal)
          await holds()
        }
        for (const lotLeft of lots) await maker.fixedPrice.takeBack({ key: formKey(), lot: lotLeft } as never).catch(() => {})
        if (year < YEARS - 1) {
          stage.clock.pass(40 * DAY)
          await stage.command(keepSweep.run)
          const form = campaignForm(stage.clock.now(), { name: `Year ${year + 2}` })
          await maker.nextCampaign.begin({ ...form, slug: `year-${year + 1}`, ends: year + 1 })
          stage.clock.pass(MINUTE)
          expect((await treasurer.books.all())?.journal).toEqual([])
        }
      }
      stage.clock.pass(40 * DAY)
      await stage.command(keepSweep.run)
      await holds()
      const handle = stage.db.$client
      const tables = handle
        .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
        .pluck()
        .all() as string[]
      for (const table of tables) {
        const rows = JSON.stringify(handle.prepare(`SELECT * FROM "${table}"`).all())
        for (const mail of gone) expect(`${table} ${rows.includes(mail)}`).toBe(`${table} false`)
      }
      stage.close()
    }),
    { numRuns: LIVES, endOnFailure: true },
  )
}, 240_000)
