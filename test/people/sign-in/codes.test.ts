import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { DAY, HOUR, MINUTE } from '#kernel/instant'
import { saveCampaign } from '#people/campaign/campaign.service'
import { waitingCodes } from '#people/outbox/waiting-codes'
import { campaignForm } from '#test/make/campaign'
import { codeFor, wrongInsteadOf } from '#test/make/code'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage({ now: Date.now() })
})
afterEach(() => stage.close())

const ADA = 'ada@elsewhere.example'
/** A browser of its own, on a network of its own. */
const browser = (name: string, address = `network of ${name}`) => stage.visitor([], address, name).people

/** Every value of every row, as somebody reads it who has a copy of the database alone. */
const everythingKept = (): string => {
  const tables = stage.db.$client.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all() as string[]
  return JSON.stringify(tables.map((name) => stage.db.$client.prepare(`SELECT * FROM "${name}"`).all()))
}

describe('a code is never kept or shown in clear', () => {
  test('neither the letter that waits nor any other row holds it, and the outbox shows the letter without it', async () => {
    await browser('hers').askCode({ email: ADA })
    const code = codeFor(stage, ADA)
    expect(everythingKept()).toContain(ADA)
    expect(everythingKept()).not.toContain(code)
    const [shown] = await (await stage.as('maker')).outbox.list()
    expect(shown?.body).toContain('is your code')
    expect(JSON.stringify(shown)).not.toContain(code)
    expect(shown).not.toHaveProperty('sealedCode')
  })

  test('what is sealed opens with the keys of this house alone, and in its own letter alone', async () => {
    await browser('hers').askCode({ email: ADA })
    const other = openStage()
    expect(() => codeFor({ ...stage, house: other.house }, ADA)).toThrow()
    other.close()
    stage.db.$client.exec("PRAGMA foreign_keys = OFF; UPDATE letter SET id = 'another letter'")
    expect(() => codeFor(stage, ADA)).toThrow()
  })

  test('the command on the house’s own machine tells it, with when it was asked for, as long as it is good', async () => {
    await browser('hers').askCode({ email: ADA })
    stage.clock.pass(MINUTE)
    await browser('a stranger’s').askCode({ email: ADA })
    const { house } = stage
    const now = stage.clock.now()
    expect(waitingCodes(stage.sight(), ADA)).toEqual([
      { code: codeFor(stage, ADA), askedAt: now },
      { code: expect.stringMatching(/^\d{6}$/), askedAt: now - MINUTE },
    ])
    expect(waitingCodes(stage.sight(), 'somebody@elsewhere.example')).toEqual([])
    stage.clock.pass(11 * MINUTE)
    expect(waitingCodes(house.sight(), ADA)).toEqual([])
  })

  test('a letter whose code is too old is of use to nobody, and goes', async () => {
    await browser('hers').askCode({ email: ADA })
    stage.clock.pass(11 * MINUTE)
    await browser('theirs').askCode({ email: 'bo@elsewhere.example' })
    expect(stage.letters().map(({ recipient }) => recipient)).toEqual(['bo@elsewhere.example'])
  })

  test('a demo shows it where it was asked for; a house that is none never does', async () => {
    expect(await browser('hers').askCode({ email: ADA })).toEqual({ email: ADA, demoCode: null })
    const demo = openStage({ now: Date.now(), isDemo: true })
    await demo.command((turn) => saveCampaign(turn, campaignForm(Date.now()), { isDemo: true }))
    const { demoCode } = await demo.visitor().people.askCode({ email: ADA })
    expect(await demo.visitor().people.enterCode({ email: ADA, code: demoCode ?? '' })).toMatchObject({ role: 'bidder' })
    demo.close()
  })
})

describe('a code belongs to the browser that asked', () => {
  test('a stranger who asks for the same address makes nobody’s code useless, and cannot use it', async () => {
    await browser('hers').askCode({ email: ADA })
    const hers = codeFor(stage, ADA)
    await browser('a stranger’s').askCode({ email: ADA })
    await expect(browser('a stranger’s').enterCode({ email: ADA, code: hers })).rejects.toThrow('does not work')
    await expect(browser('hers').enterCode({ email: ADA, code: hers })).resolves.toMatchObject({ role: 'bidder' })
  })

  test('a stranger who asks as often as they may leaves the account its own allowance', async () => {
    for (let n = 0; n < 6; n++) await browser('a stranger’s').askCode({ email: ADA })
    await expect(browser('a stranger’s').askCode({ email: ADA })).rejects.toThrow('in an hour')
    await expect(browser('hers').askCode({ email: ADA })).resolves.toBeTruthy()
  })

  test('a newer code in the same browser takes the place of the one before', async () => {
    await browser('hers').askCode({ email: ADA })
    const first = codeFor(stage, ADA)
    await browser('hers').askCode({ email: ADA })
    const second = codeFor(stage, ADA)
    if (first !== second) await expect(browser('hers').enterCode({ email: ADA, code: first })).rejects.toThrow('does not work')
    await expect(browser('hers').enterCode({ email: ADA, code: second })).resolves.toBeTruthy()
  })

  test('it is good for ten minutes', async () => {
    await browser('hers').askCode({ email: ADA })
    stage.clock.pass(10 * MINUTE + 1)
    await expect(browser('hers').enterCode({ email: ADA, code: codeFor(stage, ADA) })).rejects.toThrow('too old')
  })
})

describe('guesses', () => {
  test('after five wrong ones not even the right code is taken', async () => {
    await browser('hers').askCode({ email: ADA })
    const code = codeFor(stage, ADA)
    for (let n = 0; n < 5; n++)
      await browser('hers')
        .enterCode({ email: ADA, code: wrongInsteadOf(code) })
        .catch(() => null)
    await expect(browser('hers').enterCode({ email: ADA, code })).rejects.toThrow('Ask for a new one')
  })

  const guessFrom = async (one: ReturnType<typeof browser>): Promise<string> => {
    await one.askCode({ email: ADA })
    return one.enterCode({ email: ADA, code: wrongInsteadOf(codeFor(stage, ADA)) }).then(
      () => 'taken',
      (reason) => String(reason.message),
    )
  }
  const weighed = () => stage.db.$client.prepare('SELECT sum(guesses) FROM code_request').pluck().get()

  test('of hundreds from as many networks at one account no more than thirty are weighed in a day', async () => {
    let refusedFor = ''
    for (let n = 0; n < 300; n++) refusedFor = await guessFrom(browser(`number ${n}`))
    expect(weighed()).toBeLessThanOrEqual(30)
    expect(refusedFor).toContain('today')
    stage.clock.pass(DAY + HOUR)
    expect(await guessFrom(browser('the next day'))).toContain('does not work')
  }, 60_000)

  test('strangers who guess all day leave some for a browser in which this account was signed in before', async () => {
    await browser('hers').askCode({ email: ADA })
    await browser('hers').enterCode({ email: ADA, code: codeFor(stage, ADA) })
    for (let n = 0; n < 60; n++) await guessFrom(browser(`number ${n}`))
    await browser('hers').askCode({ email: ADA })
    await expect(browser('hers').enterCode({ email: ADA, code: codeFor(stage, ADA) })).resolves.toBeTruthy()
    expect(weighed()).toBeLessThanOrEqual(30)
  })
})

describe('limits for an origin', () => {
  test('one network asks for few codes in a while, however many browsers and addresses it names', async () => {
    const asked = (n: number) => browser(`number ${n}`, '203.0.113.9').askCode({ email: `a${n}@elsewhere.example` })
    let taken = 0
    for (let n = 0; n < 100; n++)
      await asked(n).then(
        () => taken++,
        (reason) => expect(reason).toMatchObject({ code: 'TOO_MANY_REQUESTS' }),
      )
    expect(taken).toBeLessThanOrEqual(20)
    await expect(browser('hers', '203.0.113.10').askCode({ email: ADA })).resolves.toBeTruthy()
  })

  test('one network enters few codes in a while', async () => {
    let weighedAtAll = 0
    for (let n = 0; n < 100; n++)
      await browser(`number ${n}`, '203.0.113.9')
        .enterCode({ email: `a${n}@elsewhere.example`, code: '123456' })
        .catch((reason) => {
          if (reason.code !== 'TOO_MANY_REQUESTS') weighedAtAll++
        })
    expect(weighedAtAll).toBeLessThanOrEqual(30)
  })
})
