import { parse } from 'csv-parse/sync'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { setPaper } from '#doors/papers/papers'
import { dropTriggers } from '#end/packs/tables.store'
import { accountSheet, readAccount } from '#end/statement/account.service'
import { statementAddresses } from '#end/statement/statement.address'
import { otherParts } from '#end/statement/statement-words.rules'
import { MINUTE } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { closeDueLots } from '#sale/closings/close-due.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openPdf, pagesOf } from '#test/paper/read-pdf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
/** Two lots, one paid too much and one unpaid; a gift, a match, costs, a refund, one entry taken back, and two remittances. */
beforeAll(async () => {
  stage = openStage()
  const [one, two] = [
    await makeOpenLot(stage, { closesIn: 30 * MINUTE, sharePercent: '90' }),
    await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 40 * MINUTE, sharePercent: '90' }),
  ]
  const [ada, bo] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Bo')]
  await bo.bid(one.number, '48')
  await ada.bid(one.number, '60')
  await ada.bid(two.number, '30')
  await bo.bid(two.number, '75')
  stage.clock.pass(60 * MINUTE)
  await stage.command(closeDueLots)
  const { booking, books, matching } = await stage.as('treasurer')
  const first = (await books.all())?.statement.lots[0]
  const paid = ((first?.owedMinor ?? 0) / 100 + 5).toFixed(2)
  await booking.pay({ key: 'lot 1 is paid', lot: one.number, amount: paid, reference: 'bank 1', on: '', over: 'keep' })
  const over = (await books.all())?.unplaced[0]
  await booking.refund({
    key: 'too much back',
    of: 'unplaced',
    entryId: over?.entryId ?? '',
    amount: '3.00',
    reference: 'bank 2',
    on: '',
    why: 'paid too much',
  })
  await booking.give({ key: 'a friend gives', from: 'Hedda Lunde', amount: '25.10', reference: 'envelope', on: '' })
  const wrong = await booking.give({ key: 'given by mistake', from: 'Hedda Lunde', amount: '7', reference: 'envelope 2', on: '' })
  await booking.correct({ key: 'taken back again', entryId: wrong.entryId, why: 'counted twice' })
  const { promiseId } = await matching.promise({
    key: 'somebody matches',
    from: 'The quay',
    base: 'gifts',
    ratioPercent: '100',
    cap: '20',
  })
  await matching.receive({ key: 'the match came', promiseId, amount: '12.55', reference: 'bank 3', on: '' })
  await booking.cost({
    key: 'boxes are bought',
    what: 'Boxes',
    about: 'sending',
    amount: '4.40',
    bearer: 'postage',
    paidFrom: 'bank',
    reference: 'till 1',
    on: '',
  })
  await booking.fee({ key: 'a fee is kept', to: 'The bank', amount: '0.35', bearer: 'seller', reference: '', on: '' })
  await booking.remit({ key: 'first sent on', amount: '20', reference: 'transfer 1', on: '' })
  await booking.remit({ key: 'second sent on', amount: '10.01', reference: 'transfer 2', on: '' })
}, 60_000)
afterAll(() => stage.close())

const paper = async (size: 'a4' | 'letter' = 'a4') => {
  const answer = statementAddresses[0]?.answer(stage.sight(), {}, new URLSearchParams({ paper: size }), await stage.actor('treasurer'))
  if (!answer || typeof answer.body !== 'object' || !('print' in answer.body)) throw new Error('there is no statement')
  return openPdf(await setPaper(answer.body.print))
}

describe('the statement for the cause', () => {
  test('comes out to 0.00, and each part adds up', () => {
    const { varianceMinor, varianceAt, parts, sums } = readAccount(stage.sight())
    expect([varianceMinor, varianceAt]).toEqual([0, []])
    for (const { lines, totalMinor } of parts) expect(lines.reduce((sum, { minor }) => sum + minor, 0)).toBe(totalMinor)
    expect(sums).toMatchObject({ gifts: 2510, matched: 1255, costs: 475, refunds: 300, unplaced: 200, remitted: 3001 })
    expect(sums.where).toBe(sums.whose)
  })

  test('the paper, read back by another program, has every sum and every reference, and names nobody who gave or bought', async () => {
    for (const size of ['a4', 'letter'] as const) {
      const pdf = await paper(size)
      const words = (await pagesOf(pdf)).join('\n').replaceAll(/\s+/g, ' ')
      const { parts, head, currency } = readAccount(stage.sight())
      for (const { title, totalMinor } of parts.filter(({ lines }) => lines.length > 0)) {
        if (otherParts(parts).some((part) => part.title === title)) expect(words).toContain(title)
        expect(words).toContain(showMoney(totalMinor, currency))
      }
      for (const phrase of [
        'transfer 1',
        'transfer 2',
        'Variance £0.00',
        'Reversed: A gift of money',
        `journal of ${head.entries} entries`,
      ])
        expect(words).toContain(phrase)
      expect(words.replaceAll(' ', '')).toContain(head.digest)
      for (const name of ['Hedda', 'Ada', 'Bo ']) expect(words).not.toContain(name)
      expect(await pdf.getMarkInfo()).toMatchObject({ Marked: true })
      expect((await pdf.getMetadata()).info).toMatchObject({ Title: 'Statement for Ferry Lane Repair School', Language: 'en-GB' })
    }
  }, 60_000)

  test('names nobody whom the bank’s own words name: of those the reference alone is printed', async () => {
    const { bank, booking, books } = await stage.as('treasurer')
    const text = 'Date,Amount,Details\n2027-03-13,9.00,QUILL ADA RF18 5390 0754 7034 late\n2027-03-13,8.00,LUNDE HEDDA for the school'
    await bank.import({ name: 'march.csv', text })
    for (const { id, amountMinor } of (await bank.desk()).open) {
      const amount = (amountMinor / 100).toFixed(2)
      const part = amountMinor === 800 ? { to: 'gift' as const, amount, from: 'A friend' } : { to: 'unplaced' as const, amount }
      await bank.place({ key: `a line of ${amount}`, lineId: id, parts: [part] })
    }
    const said = () => JSON.stringify(readAccount(stage.sight()).parts)
    for (const name of ['QUILL', 'LUNDE', 'HEDDA']) expect(said()).not.toContain(name)
    expect(said()).toContain('RF18539007547034')
    for (const { id, kind } of (await books.all())?.journal.slice(-2) ?? [])
      await booking.correct({ key: `take back ${kind}`, entryId: id, why: 'out of this test' })
    for (const name of ['QUILL', 'LUNDE', 'HEDDA']) expect(said()).not.toContain(name)
  })

  test('the lines of each part of the table add up to its total', () => {
    const rows: string[][] = parse(accountSheet(stage.sight()).text, { bom: true, from_line: 2 })
    const parts = [...new Set(rows.map(([part]) => part ?? ''))].filter((part) => part !== 'Drawn from')
    expect(parts).toContain('Passed on to the cause')
    for (const part of parts) {
      const own = rows.filter(([of]) => of === part)
      const minor = (amount = '') => Math.round(Number(amount) * 100)
      const lines = own.filter(([, what]) => what !== 'total').reduce((sum, row) => sum + minor(row[5]), 0)
      expect([part, lines]).toEqual([part, minor(own.find(([, what]) => what === 'total')?.[5])])
    }
  })

  test('one penny changed in any line of the journal shows a variance, and the entry it is in', () => {
    const handle = stage.db.$client
    const lines = handle.prepare('SELECT entry_id, line, entry.seq FROM posting JOIN entry ON entry.id = posting.entry_id').all() as {
      entry_id: string
      line: number
      seq: number
    }[]
    expect(lines.length).toBeGreaterThan(25)
    const nudge = (by: 1 | -1, { entry_id, line }: { entry_id: string; line: number }) => {
      const restoreTriggers = dropTriggers(handle)
      handle.prepare('UPDATE posting SET amount_minor = amount_minor + ? WHERE entry_id = ? AND line = ?').run(by, entry_id, line)
      restoreTriggers()
    }
    for (const line of lines) {
      nudge(1, line)
      const { varianceMinor, varianceAt } = readAccount(stage.sight())
      nudge(-1, line)
      expect(varianceMinor).toBeGreaterThan(0)
      expect(varianceAt.map(({ words }) => words).join('\n')).toMatch(new RegExp(`Entry ${line.seq} of .*do(es)? not`))
    }
    expect(readAccount(stage.sight()).varianceMinor).toBe(0)
  }, 120_000)

  test('a penny on a lot’s hammer price shows it, beside what the signed history says', async () => {
    stage.db.$client.prepare('UPDATE lot SET hammer_minor = hammer_minor + 1 WHERE number = 1').run()
    const { varianceAt } = readAccount(stage.sight())
    const words = (await pagesOf(await paper())).join('\n').replaceAll(/\s+/g, ' ')
    stage.db.$client.prepare('UPDATE lot SET hammer_minor = hammer_minor - 1 WHERE number = 1').run()
    expect(varianceAt[0]?.words).toBe('Lot 1: its signed history closed at £50.00, the lot has £50.01.')
    expect(words).toContain('It does not balance. This is where:')
    expect(words).toContain('Lot 1: its signed history closed at £50.00')
  }, 60_000)

  test('another entry gives another head of the journal', async () => {
    const before = readAccount(stage.sight()).head
    await (await stage.as('treasurer')).booking.give({ key: 'one gift more', from: 'A friend', amount: '1', reference: '', on: '' })
    const after = readAccount(stage.sight()).head
    expect(after.entries).toBe(before.entries + 1)
    expect(after.digest).not.toBe(before.digest)
  })

  test('is found at its own addresses and at its earlier ones, and says the same there', async () => {
    const actor = await stage.actor('treasurer')
    const answers = statementAddresses.map(({ path, answer }) => ({ path, said: answer(stage.sight(), {}, new URLSearchParams(), actor) }))
    expect(answers.map(({ path }) => path)).toEqual([
      '/bench/close-out/statement.pdf',
      '/bench/close-out/statement.csv',
      '/bench/keeping/statement.pdf',
      '/bench/keeping/statement.csv',
    ])
    expect([answers[2]?.said, answers[3]?.said]).toEqual([answers[0]?.said, answers[1]?.said])
  })

  test('is there for the maker and the treasurer, and for nobody else', async () => {
    for (const role of ['maker', 'treasurer', 'volunteer', 'host'] as const) {
      const actor = await stage.actor(role)
      const isGiven = role === 'maker' || role === 'treasurer'
      const given = statementAddresses.map(({ path, answer }) => [path, answer(stage.sight(), {}, new URLSearchParams(), actor) !== null])
      expect([role, given]).toEqual([role, statementAddresses.map(({ path }) => [path, isGiven])])
    }
  })
})
