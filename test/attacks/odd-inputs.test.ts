import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { type Chance, seededChance } from '#kernel/seeded'
import { tellHouse } from '#test/make/told-house'
import type { Stage } from '#test/stage'
import { hintsOf } from './hints'
import { EVERYBODY, openOddCaller, type Who, watchChanges } from './odd-caller'
import { POISON, WHOLES } from './odd-values'
import { audienceOf, POLICIES } from './policies'
import { type Recorded, recordInputs } from './recorded'
import { type Hints, valueFor, waysInto, withAt } from './shapes'
import { everyProcedure, type Named } from './walk'

// A sample in the suite; `npm run odd-inputs` throws a hundred thousand, and SEED another hundred thousand.
const MANY = Number(process.env.ODD_INPUTS ?? 4_000)
const SEED = Number(process.env.SEED ?? 1)
/** What a refused call may write: that a code was asked for or tried, and when a session was last used. */
const MAY_CHANGE: Record<string, readonly string[]> = {
  'people.askCode': ['code_request', 'verification'],
  'people.enterCode': ['code_request', 'verification'],
}
const LEAK = /\n\s+at |node_modules|SQLITE_|\.[mc]?[jt]sx?:\d+|Error:/

let stage: Stage
let caller: Awaited<ReturnType<typeof openOddCaller>>
let changes: ReturnType<typeof watchChanges>
let hints: Hints
let recorded: Recorded
beforeAll(async () => {
  const told = await recordInputs(tellHouse)
  stage = told.done
  recorded = told.recorded
  caller = await openOddCaller(stage)
  await caller.signIn()
  changes = watchChanges(stage)
  hints = await hintsOf(stage)
}, 240_000)
afterAll(() => {
  caller.close()
  stage.close()
})

const oneOf = <T>(all: readonly T[], chance: Chance): T => all[Math.floor(chance() * all.length)] as T

/** Valid; valid with one place poisoned; nearly valid, with a field too many or too few; or nothing of the kind. */
function inputFor({ path, shape }: Named, chance: Chance): unknown {
  if (!shape) return chance() < 0.5 ? undefined : oneOf(WHOLES, chance)
  const given = recorded.get(path)
  const valid = given && chance() < 0.6 ? freshly(oneOf(given, chance), chance) : valueFor(shape, path.split('.')[0] ?? '', hints, chance)
  const kind = chance()
  if (kind < 0.35) return valid
  if (kind < 0.8) return withAt(valid, oneOf(waysInto(valid), chance), oneOf(POISON, chance))
  if (kind < 0.87 && typeof valid === 'object' && valid !== null)
    return { ...valid, [oneOf(['more', '__proto__x', 'role', 'x'.repeat(300)], chance)]: 1 }
  if (kind < 0.94 && typeof valid === 'object' && valid !== null) {
    const gone = oneOf(Object.keys(valid), chance)
    return Object.fromEntries(Object.entries(valid).filter(([name]) => name !== gone))
  }
  return oneOf(WHOLES, chance)
}

/** As it was given, with a key of its own where it has one. */
const freshly = (given: unknown, chance: Chance): unknown =>
  typeof given === 'object' && given !== null && 'key' in given && !('name' in given && 'checklist' in given)
    ? { ...given, key: `once-more-${Math.floor(chance() * 1e12).toString(36)}-0000` }
    : given

/** Mostly somebody who may call it, now and then anybody. */
function whoFor(path: string, chance: Chance): Who {
  const audience = audienceOf(POLICIES[path] ?? 'anyone')
  const may = audience === 'anyone' ? EVERYBODY : audience === 'signed-in' ? EVERYBODY.slice(1) : audience
  return chance() < 0.9 ? oneOf(may, chance) : oneOf(EVERYBODY, chance)
}

const inWords = (input: unknown) => {
  const json = JSON.stringify(input) ?? 'nothing'
  return json.length > 600 ? `${json.slice(0, 600)}… (${json.length})` : json
}

test(`of ${MANY} odd inputs none is answered above 499, with a stack, or with a change where it was refused`, { timeout: 0 }, async () => {
  const chance = seededChance(SEED)
  const failed = vi.spyOn(stage.house.log, 'error')
  const procedures = everyProcedure()
  const flaws: string[] = []
  const taken = new Set<string>()
  for (let n = 0; n < MANY; n++) {
    if (n % 250 === 0) await caller.signIn()
    const one = procedures[n % procedures.length] as Named
    const who = whoFor(one.path, chance)
    const input = inputFor(one, chance)
    changes.since()
    failed.mockClear()
    const { status, text } = await caller.call(one.path, one.type, who, input)
    const changed = changes.since().filter((table) => table !== 'session' && !MAY_CHANGE[one.path]?.includes(table))
    const what = `${one.path} as ${who}: ${status} for ${inWords(input)}`
    if (status < 300) taken.add(one.path)
    if (status > 499 || failed.mock.calls.length > 0)
      flaws.push(`${what}: ${String((failed.mock.calls[0]?.[0] as { err?: unknown } | undefined)?.err)}`)
    else if (status >= 400 && changed.length > 0) flaws.push(`${what} wrote to ${changed.join(', ')}`)
    else if (status >= 400 && LEAK.test(text)) flaws.push(`${what} told ${text.slice(0, 300)}`)
    if (flaws.length >= 60) break
  }
  failed.mockRestore()
  // Were nothing taken, nothing would have reached a rule.
  expect(flaws).toEqual([])
  expect(taken.size).toBeGreaterThan(procedures.length / 2)
})
