import { callTRPCProcedure, TRPCError } from '@trpc/server'
import { expect, test } from 'vitest'
import { rootRouter } from '#doors/trpc/root'
import { contextFor } from '#doors/web/context'
import { metaOf, runProcedure } from '#doors/web/run-procedure'
import { Refusal } from '#kernel/refusal'
import type { Context } from '#runtime/call/base'
import { openStage } from '../../stage'

type Type = 'query' | 'mutation'

/** What a call comes to, as far as whoever asked is told of it. */
const told = async (call: Promise<unknown>) => {
  try {
    return { data: await call }
  } catch (reason) {
    if (!(reason instanceof TRPCError)) throw reason
    const { code, message, cause } = reason
    return { code, message, cause: cause?.name, refusal: cause instanceof Refusal ? cause.code : null }
  }
}

const byLibrary = (ctx: Context, path: string, type: Type, input: unknown) =>
  callTRPCProcedure({ router: rootRouter, path, type, ctx, getRawInput: async () => input, signal: undefined, batchIndex: 0 })

test('a call comes to the same as by the library: its answer, what its policy refuses, and what its input lacks', async () => {
  const stage = openStage()
  const visitor = await contextFor(stage.house, { cookies: '', address: '192.0.2.1', setCookie: () => {} })
  const signedInAs = async (role: 'bidder' | 'maker'): Promise<Context> => {
    const actor = await stage.actor(role)
    return { ...visitor, actor, session: { id: `session of ${actor.personId}`, confirmedAt: 0 } }
  }
  const [bidder, maker] = [await signedInAs('bidder'), await signedInAs('maker')]
  const calls: [Context, string, Type, unknown, expected: object][] = [
    [visitor, 'bidding.holdOfAll', 'query', undefined, { data: null }],
    [visitor, 'bidding.myBids', 'query', undefined, { code: 'UNAUTHORIZED', refusal: 'not-signed-in' }],
    [bidder, 'bidding.patterns', 'query', undefined, { code: 'FORBIDDEN', refusal: 'not-yours-to-do' }],
    [bidder, 'bidding.frame', 'query', { lot: 'seven' }, { code: 'BAD_REQUEST', cause: 'ZodError' }],
    [bidder, 'bidding.frame', 'query', { lot: 7, more: 1 }, { code: 'BAD_REQUEST', cause: 'ZodError' }],
    [bidder, 'bidding.mySide', 'query', { lot: 7 }, { code: 'NOT_FOUND', refusal: 'not-found' }],
    [bidder, 'bidding.place', 'mutation', { lot: 7, key: 'a-key-of-this-form', maximum: '50' }, { code: 'NOT_FOUND' }],
    [maker, 'signIn.passkeys', 'query', undefined, {}],
    [maker, 'bidding.place', 'query', { lot: 7 }, { code: 'NOT_FOUND', refusal: null }],
    [maker, 'bidding', 'query', undefined, { code: 'NOT_FOUND', refusal: null }],
    [maker, 'toString', 'query', undefined, { code: 'NOT_FOUND', refusal: null }],
    [maker, '__proto__', 'mutation', undefined, { code: 'NOT_FOUND', refusal: null }],
  ]
  for (const [ctx, path, type, input, expected] of calls) {
    const ours = await told(runProcedure({ path, type, ctx, input }))
    expect(ours, path).toMatchObject(expected)
    expect(ours, path).toEqual(await told(byLibrary(ctx, path, type, input)))
  }
  stage.close()
})

test('who may call a procedure is known before it is called', () => {
  expect(metaOf('bidding.bidders')?.roles).toEqual(['maker', 'host'])
  expect(metaOf('bidding.place')?.roles).toBeUndefined()
  expect(metaOf('constructor')).toBeUndefined()
})
