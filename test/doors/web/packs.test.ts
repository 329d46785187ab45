import { afterEach, beforeEach, expect, test } from 'vitest'
import type { Role } from '#kernel/role'
import { makeCampaign } from '#test/make/campaign'
import { filesOf } from '#test/make/packed'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
beforeEach(async () => {
  stage = openStage({ now: Date.now() })
  await makeCampaign(stage)
  door = await openStageDoor(stage)
})
afterEach(() => {
  door.close()
  stage.close()
})

async function makePack(withContacts: boolean): Promise<string> {
  const maker = await stage.as('maker')
  await maker.packs.start({ withContacts })
  await expect.poll(async () => (await maker.packs.all()).present?.state, { timeout: 20_000 }).toBe('done')
  return (await maker.packs.all()).present?.fileName ?? ''
}

const fetchAs = async (role: Role, fileName: string, confirmedAgo = 0) => {
  const cookie = await door.sessionOf((await stage.actor(role)).personId)
  if (confirmedAgo > 0) stage.db.run(`UPDATE session SET created_at = created_at - ${confirmedAgo}`)
  const answer = await fetch(`${door.url}/bench/close-out/packs/${fileName}`, { headers: { cookie } })
  return { status: answer.status, type: answer.headers.get('content-type'), body: await answer.text() }
}

test('a pack with contact data is given only to whoever proved a short while ago who they are', async () => {
  const fileName = await makePack(true)
  expect((await fetchAs('treasurer', fileName)).type).toBe('application/zip')
  const refused = await fetchAs('treasurer', fileName, 601_000)
  expect(refused.status).toBe(403)
  expect(refused.body).toContain('First confirm that it is you')
})

test('a pack without contact data holds no address but those of the staff, and says so', async () => {
  const [bidder, staff] = [await stage.actor('bidder', 'Ada'), await stage.actor('treasurer')]
  const pack = await filesOf(stage.house.packer.find(await makePack(false)) ?? '')
  const held = [...pack].flatMap(([path, body]) => (body.includes(staff.email) ? path : []))
  expect(held).toEqual(['tables/person.json'])
  expect([...pack].flatMap(([path, body]) => (body.includes(bidder.email) ? path : []))).toEqual([])
  expect(pack.get('README.txt')?.toString()).toContain('Those of the staff stay in tables/person.json')
  expect(pack.get('README.txt')?.toString()).not.toContain('contact data: email addresses')
})

test('a pack without contact data is given to any session of those who keep the books, and to nobody else', async () => {
  const fileName = await makePack(false)
  expect((await fetchAs('maker', fileName, 601_000)).type).toBe('application/zip')
  expect((await fetchAs('host', fileName)).status).toBe(404)
  expect((await fetchAs('bidder', fileName)).status).toBe(404)
})
