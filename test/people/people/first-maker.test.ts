import { afterEach, beforeEach, expect, test } from 'vitest'
import { HOUR } from '#kernel/instant'
import { makeFirstLink } from '#people/people/people.service'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage({ now: Date.now() })
})
afterEach(() => stage.close())

const WHO = { email: 'wren@workshop.example', name: 'Wren' }
const linkPrinted = async () => new URL((await stage.command(makeFirstLink)) ?? 'none:')
const become = (token: string) => stage.visitor().people.firstMaker({ token, ...WHO })

test('the token stands behind the #, so that no server, proxy or log ever sees it', async () => {
  const link = await linkPrinted()
  expect([link.pathname, link.search]).toEqual(['/first', ''])
  expect(link.hash.slice(1)).toMatch(/^[\w-]{32}$/)
})

test('it makes the maker once', async () => {
  const token = (await linkPrinted()).hash.slice(1)
  await become(token)
  await expect(become(token)).rejects.toThrow('This link has been used')
  expect(await stage.command(makeFirstLink)).toBeNull()
})

test('it is good for an hour, and the refusal says how to get another', async () => {
  const token = (await linkPrinted()).hash.slice(1)
  stage.clock.pass(HOUR + 1)
  await expect(become(token)).rejects.toThrow('Restart the house')
  await expect(become((await linkPrinted()).hash.slice(1))).resolves.toBeNull()
})

test('a newer link takes the place of the one before', async () => {
  const older = (await linkPrinted()).hash.slice(1)
  await linkPrinted()
  await expect(become(older)).rejects.toThrow('a newer one was printed')
})
