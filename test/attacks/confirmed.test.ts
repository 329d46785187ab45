import { TRPCError } from '@trpc/server'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { ROLES, type Role } from '#kernel/role'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'
import { audienceOf, isConfirmed, POLICIES } from './policies'
import { call } from './walk'

const DIGEST = '0'.repeat(64)
let stage: Stage
beforeAll(async () => {
  stage = openStage({ now: Date.now() })
  await makeCampaign(stage)
  stage.db.run(
    `INSERT INTO bank_line (id, seq, digest, twin, value_on, amount_minor, words, name, reference, file, line, read_at)
     VALUES ('out', 1, '${DIGEST}', 0, '2027-03-15', -4200, '', '', '', 'bank.csv', 2, 0), ('in', 2, '${DIGEST}', 1, '2027-03-15', 4200, '', '', '', 'bank.csv', 3, 0)`,
  )
})
afterAll(() => stage.close())

const listed = (confirmed: 'always' | 'sometimes') =>
  Object.entries(POLICIES).flatMap(([path, policy]) => (isConfirmed(policy) === confirmed ? [[path, audienceOf(policy)] as const] : []))
const rolesOf = (audience: ReturnType<typeof audienceOf>): readonly Role[] => (typeof audience === 'string' ? ROLES : audience)

/** The code of the refusal that came; 'none' where there was another answer. */
async function codeOf(work: Promise<unknown>): Promise<string> {
  try {
    await work
    return 'none'
  } catch (reason) {
    expect(reason).toBeInstanceOf(TRPCError)
    const { cause } = reason as TRPCError
    return cause instanceof Refusal ? cause.code : 'none'
  }
}

/** Inputs for which those that ask sometimes do, and inputs for which they do not. */
const SOMETIMES: Record<string, { asks: unknown; asksNot: unknown }> = {
  'bank.bookPayout': {
    asks: { key: 'a form’s key', lineId: 'out', text: 'gross,fee\n1,1', processor: 'cards', bearer: 'seller' },
    asksNot: { key: 'a form’s key', lineId: 'in', text: 'gross,fee\n1,1', processor: 'cards', bearer: 'seller' },
  },
  'bank.confirm': { asks: { key: 'a form’s key', lineId: 'out' }, asksNot: { key: 'a form’s key', lineId: 'in' } },
  'bank.place': {
    asks: { key: 'a form’s key', lineId: 'out', parts: [{ to: 'remittance', amount: '42' }] },
    asksNot: { key: 'a form’s key', lineId: 'in', parts: [{ to: 'unplaced', amount: '42' }] },
  },
  'packs.mayFetch': { asks: { fileName: 'a-pack-that-nobody-noted.zip' }, asksNot: { fileName: 'without.zip' } },
  'packs.start': { asks: { withContacts: true }, asksNot: { withContacts: false } },
  'parcels.export': { asks: { what: 'donors' }, asksNot: { what: 'gifts' } },
  'sending.endProblem': {
    asks: {
      key: 'a form’s key',
      problemId: 'x',
      as: 'refunded',
      words: 'It broke.',
      amount: '5',
      isWhole: false,
      reference: '',
      hasGoneBack: false,
    },
    asksNot: {
      key: 'a form’s key',
      problemId: 'x',
      as: 'explained',
      words: 'It broke.',
      amount: '',
      isWhole: false,
      reference: '',
      hasGoneBack: false,
    },
  },
}

test.each(listed('always'))('%s is refused until it is sure who asks, to each role that may do it', async (path, audience) => {
  for (const role of rolesOf(audience)) {
    expect(`${role}: ${await codeOf(call(await stage.unconfirmed(role), path, undefined))}`).toBe(`${role}: confirm-first`)
    expect(`${role}: ${await codeOf(call(await stage.as(role), path, undefined))}`).not.toBe(`${role}: confirm-first`)
  }
})

test.each(Object.entries(POLICIES).filter(([, policy]) => isConfirmed(policy) !== 'sometimes'))(
  '%s tells nobody to confirm who may not do it, or who need not',
  async (path, policy) => {
    const may = rolesOf(audienceOf(policy))
    for (const role of ROLES.filter((one) => isConfirmed(policy) === 'never' || !may.includes(one)))
      expect(`${role}: ${await codeOf(call(await stage.unconfirmed(role), path, undefined))}`).not.toBe(`${role}: confirm-first`)
    expect(await codeOf(call(stage.visitor(), path, undefined))).not.toBe('confirm-first')
  },
)

test('for each that asks sometimes it is written when', () => {
  expect(listed('sometimes').map(([path]) => path)).toEqual(Object.keys(SOMETIMES))
})

test.each(listed('sometimes'))('%s is refused until it is sure who asks where it matters, and only there', async (path, audience) => {
  stage.db.run(
    `INSERT OR IGNORE INTO pack_made (id, file_name, at, by_person_id, bytes, sha256, with_contacts, is_whole, last_entry)
     VALUES ('p', 'without.zip', 0, NULL, 1, '${DIGEST}', 0, 1, 0)`,
  )
  const { asks, asksNot } = SOMETIMES[path] ?? {}
  for (const role of rolesOf(audience)) {
    expect(`${role}: ${await codeOf(call(await stage.unconfirmed(role), path, asks))}`).toBe(`${role}: confirm-first`)
    expect(`${role}: ${await codeOf(call(await stage.unconfirmed(role), path, asksNot))}`).not.toBe(`${role}: confirm-first`)
    if (path !== 'packs.start')
      expect(`${role}: ${await codeOf(call(await stage.as(role), path, asks))}`).not.toBe(`${role}: confirm-first`)
  }
})

test.each([
  [0, true],
  [10 * MINUTE - 5 * SECOND, true],
  [10 * MINUTE + SECOND, false],
  // A clock that was an hour ahead when it was confirmed.
  [-60 * MINUTE, false],
])('a proof of %d ms ago counts: %s', async (ago, counts) => {
  const caller = await stage.as('maker', 'maker', Date.now() - ago)
  const code = await codeOf(caller.people.setRole({ email: 'cy@elsewhere.example', role: 'host' }))
  expect(code).toBe(counts ? 'none' : 'confirm-first')
})
