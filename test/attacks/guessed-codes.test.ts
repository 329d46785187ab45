import { expect, test } from 'vitest'
import { DAY } from '#kernel/instant'
import { codeFor, wrongInsteadOf } from '#test/make/code'
import { openStage } from '#test/stage'

// A sample in the suite; `npm run guess-codes` tries ten thousand from a thousand origins.
const TRIES = Number(process.env.CODE_TRIES ?? 400)
const ORIGINS = Math.max(1, TRIES / 10)
const ADA = 'ada@workshop.example'

test(`of ${TRIES} tries at one account from ${ORIGINS} origins in a day thirty are weighed at most`, { timeout: 0 }, async () => {
  const stage = openStage()
  const weighed = () => Number(stage.db.$client.prepare('SELECT coalesce(sum(guesses), 0) FROM code_request').pluck().get())
  const answers = new Map<string, number>()
  for (let n = 0; n < TRIES; n++) {
    const origin = n % ORIGINS
    const { people } = stage.visitor([], `2001:db8:${origin.toString(16)}::1`, `browser ${n}`)
    const told = await people
      .askCode({ email: ADA })
      .then(() => people.enterCode({ email: ADA, code: wrongInsteadOf(codeFor(stage, ADA)) }))
      .then(
        () => 'taken',
        (reason: Error) => reason.message,
      )
    answers.set(told, (answers.get(told) ?? 0) + 1)
    stage.clock.pass(Math.floor(DAY / TRIES))
  }
  // What keeps them out is the day's allowance, and not that nobody ever got as far as that.
  expect(answers.get('taken')).toBeUndefined()
  expect([...answers.keys()].join()).toContain('today')
  expect(weighed()).toBeGreaterThan(10)
  expect(weighed()).toBeLessThanOrEqual(30)
  stage.close()
})
