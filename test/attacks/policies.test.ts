import { TRPCError } from '@trpc/server'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { ROLES, type Role } from '#kernel/role'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'
import { audienceOf, POLICIES } from './policies'
import { call, everyProcedure } from './walk'

let stage: Stage
beforeAll(async () => {
  stage = openStage()
  await makeCampaign(stage)
})
afterAll(() => stage.close())

test('every procedure is listed with who may call it, and nothing else is', () => {
  expect(Object.keys(POLICIES).sort()).toEqual(
    everyProcedure()
      .map(({ path }) => path)
      .sort(),
  )
})

const isTurnedAway = async (who: Role | 'visitor', path: string): Promise<boolean> => {
  const caller = who === 'visitor' ? stage.visitor() : await stage.as(who)
  try {
    await call(caller, path, undefined)
    return false
  } catch (reason) {
    expect(reason).toBeInstanceOf(TRPCError)
    const { code, cause } = reason as TRPCError
    // An answer that the policy gave, not one that the service gave to somebody it had let in.
    return (code === 'UNAUTHORIZED' || code === 'FORBIDDEN') && /Sign in first|This is done by/.test(cause?.message ?? '')
  }
}

test.each(Object.entries(POLICIES))('%s is open to those listed and to nobody else', async (path, policy) => {
  const audience = audienceOf(policy)
  const allowed = audience === 'anyone' ? ['visitor', ...ROLES] : audience === 'signed-in' ? ROLES : audience
  for (const who of ['visitor', ...ROLES] as const)
    expect(`${who} turned away: ${await isTurnedAway(who, path)}`).toBe(`${who} turned away: ${!allowed.some((one) => one === who)}`)
})
