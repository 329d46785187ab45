import { afterEach, expect, test, vi } from 'vitest'
import { api } from '#app/_trpc/client.ts'
import { askWith, confirmFirst } from '#app/_trpc/confirm-first.ts'

afterEach(() => vi.unstubAllGlobals())

/** A house that answers each call in turn, and what it was sent. */
function house(...answers: { status: number; body: object }[]) {
  const sent: string[] = []
  vi.stubGlobal('fetch', async (url: string, init: { body?: string }) => {
    sent.push(`${url} ${init.body ?? ''}`)
    const { status, body } = answers.shift() ?? { status: 500, body: {} }
    return new Response(JSON.stringify(body), { status, headers: { 'content-type': 'application/json' } })
  })
  return sent
}
const refusal = (code: string) => ({
  status: 428,
  body: { error: { message: 'words', code: -32000, data: { code: 'X', httpStatus: 428, refusal: code, words: 'words', fields: {} } } },
})
const DONE = { status: 200, body: { result: { data: { personId: 'p' } } } }
const give = () => api.people.setRole.mutate({ email: 'cy@elsewhere.example', role: 'host' })

test('what is refused until it is sure who asks is sent again as it was, once it is', async () => {
  const sent = house(refusal('confirm-first'), DONE)
  const leave = askWith(async () => true)
  await expect(give()).resolves.toEqual({ personId: 'p' })
  expect(sent).toHaveLength(2)
  expect(sent[1]).toBe(sent[0])
  leave()
})

test('whoever would rather not confirm is told the refusal, and nothing is sent again', async () => {
  const sent = house(refusal('confirm-first'), DONE)
  const leave = askWith(async () => false)
  await expect(give()).rejects.toThrow('words')
  expect(sent).toHaveLength(1)
  leave()
})

test('where nothing can ask, the refusal is told', async () => {
  house(refusal('confirm-first'))
  await expect(give()).rejects.toThrow('words')
})

test('any other refusal is told at once and asks for nothing', async () => {
  house(refusal('conflict'))
  const ask = vi.fn(async () => true)
  const leave = askWith(ask)
  await expect(give()).rejects.toThrow('words')
  expect(ask).not.toHaveBeenCalled()
  leave()
})

test('one that is refused again after the proof is told so, and not asked for ever', async () => {
  const sent = house(refusal('confirm-first'), refusal('confirm-first'), DONE)
  const leave = askWith(async () => true)
  await expect(give()).rejects.toThrow('words')
  expect(sent).toHaveLength(2)
  leave()
})

test('two that wait for a proof are asked for it once', async () => {
  let settle: (isSure: boolean) => void = () => {}
  const ask = vi.fn(() => new Promise<boolean>((resolve) => (settle = resolve)))
  const leave = askWith(ask)
  const both = [confirmFirst(), confirmFirst()]
  settle(true)
  expect(await Promise.all(both)).toEqual([true, true])
  expect(ask).toHaveBeenCalledTimes(1)
  void confirmFirst()
  expect(ask).toHaveBeenCalledTimes(2)
  leave()
})
