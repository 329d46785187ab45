import { execFileSync } from 'node:child_process'
import Ajv from 'ajv/dist/2020'
import { afterEach, expect, test } from 'vitest'
import { booksAddresses } from '#money/books/books.address'
import { ACCOUNTS } from '#money/journal/journal.rules'
import { neighbour } from '#test/make/neighbour'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const PYTHON = neighbour('python3', 'usr/bin/python3')

/** Adds the file up by itself: every entry to nought, every account to its balance. Prints what the bank holds. */
const ADD_UP = `
import json, sys, collections
journal = json.load(sys.stdin)
sums = collections.Counter()
for entry in journal["entries"]:
    assert sum(line["amountMinor"] for line in entry["lines"]) == 0, entry["id"]
    for line in entry["lines"]:
        sums[line["account"]] += line["amountMinor"]
for account, balance in journal["balances"].items():
    assert sums[account] == balance, (account, sums[account], balance)
assert sum(journal["balances"].values()) == 0
print(sums["bank"])
`

async function campaign() {
  stage = openStage()
  const made = await makeSoldLot(stage, { sharePercent: '87.5' })
  const { treasurer, number, books } = made
  const actor = await stage.actor('treasurer')
  const read = (path: string, params: Record<string, string> = {}) =>
    String(booksAddresses.find((one) => one.path === path)?.answer(stage.sight(), params, new URLSearchParams(), actor)?.body)
  return { treasurer, number, books, read }
}

test.runIf(PYTHON)('the exported journal is added up by another program to what every view says, after each step', async () => {
  const { treasurer, number, books, read } = await campaign()
  const validate = new Ajv({ strict: false }).compile(JSON.parse(read('/schemas/journal-1.json')))
  const steps: (() => Promise<unknown>)[] = [
    () => treasurer.booking.pay({ key: formKey(), lot: number, amount: '20', reference: '', on: '' }),
    () => treasurer.booking.pay({ key: formKey(), lot: number, amount: '50', reference: '', on: '', over: 'keep' }),
    () => treasurer.booking.reduce({ key: formKey(), lot: number, amount: '3.33', why: 'The dial is cracked.' }),
    () => treasurer.booking.give({ key: formKey(), from: 'A friend', amount: '17.01', reference: '', on: '' }),
    () => treasurer.booking.postage({ key: formKey(), lot: number, amount: '9.99' }),
    () => treasurer.booking.fallThrough({ key: formKey(), lot: number, why: 'It came back.' }),
  ]
  for (const step of steps) {
    await step()
    const file = read('/bench/money/journal.json')
    expect(validate(JSON.parse(file)), JSON.stringify(validate.errors)).toBe(true)
    const bank = Number(execFileSync(PYTHON ?? '', ['-c', ADD_UP], { input: file, encoding: 'utf8' }))
    const { statement } = await books()
    expect(statement).toMatchObject({ bankMinor: bank, varianceMinor: 0 })
    for (const account of ACCOUNTS) {
      const lines = read('/bench/money/ledger/:account.csv', { account }).trim().split('\r\n').slice(1)
      const balance = JSON.parse(file).balances[account]
      // The last two cells are the balance and the currency.
      expect(Math.round(Number(lines.at(-1)?.split(',').at(-2) ?? 0) * 100)).toBe(balance)
    }
  }
  expect(steps.length).toBeGreaterThan(5)
})
