import { afterEach, beforeEach, expect, test } from 'vitest'
import { setRole } from '#people/people/people.service'
import { makeUnits } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
beforeEach(async () => {
  stage = openStage({ now: Date.now() })
  await makeUnits(stage, ['TERN-01'], {})
  door = await openStageDoor(stage)
})
afterEach(() => {
  door.close()
  stage.close()
})

/** Follows topics as a page does; `ended` comes true when the house lets it go, `heard` is all that came. */
async function follow(topics: string, cookie: string) {
  const answer = await fetch(`${door.url}/live?topics=${topics}`, { headers: { cookie } })
  const seen = { status: answer.status, heard: '', ended: false }
  const reader = answer.body?.getReader()
  const read = async (): Promise<void> => {
    const { done, value } = (await reader?.read().catch(() => ({ done: true, value: undefined }))) ?? { done: true, value: undefined }
    if (value) seen.heard += new TextDecoder().decode(value)
    if (done) seen.ended = true
    else await read()
  }
  void read()
  await expect.poll(() => seen.heard).toContain('event: beat')
  return seen
}

/** Something that screens of the staff are told of. */
const happen = () => stage.command((turn) => turn.record({ kind: 'unit.read', subject: 'unit:TERN-01', body: {} }))

const STAFF_TOPIC = 'unit:TERN-01'
const framesIn = ({ heard }: { heard: string }) => heard.split('event: unit').length - 1

test.each([
  ['signs out', async (_: string, cookie: string) => void (await stage.house.signIn.close(cookie))],
  ['is made a bidder', async (email: string) => void (await stage.command((turn) => setRole(turn, { email, role: 'bidder' })))],
  ['is given another role', async (email: string) => void (await stage.command((turn) => setRole(turn, { email, role: 'treasurer' })))],
  ['has been idle for twelve hours', async () => void stage.db.run(`UPDATE session SET updated_at = ${Date.now() - 12 * 3_600_000 - 1}`)],
])('a screen of the staff that was left open is brought nothing more once whoever opened it %s', async (_, happens) => {
  const { personId, email } = await stage.actor('host')
  const cookie = await door.sessionOf(personId)
  const screen = await follow(STAFF_TOPIC, cookie)
  expect(screen.status).toBe(200)
  await happen()
  await expect.poll(() => framesIn(screen)).toBe(2)
  await happens(email, cookie)
  await happen()
  await expect.poll(() => screen.ended).toBe(true)
  expect(framesIn(screen)).toBe(2)
})

test('a screen of the staff that hears nothing is let go within a heartbeat as well', async () => {
  const { personId } = await stage.actor('host')
  const cookie = await door.sessionOf(personId)
  const screen = await follow(STAFF_TOPIC, cookie)
  await stage.house.signIn.close(cookie)
  await expect.poll(() => screen.ended, { timeout: 6000 }).toBe(true)
})

test('a screen that follows what everybody may see goes on when its reader signs out', async () => {
  const { personId } = await stage.actor('bidder')
  const cookie = await door.sessionOf(personId)
  const screen = await follow('lots', cookie)
  await stage.house.signIn.close(cookie)
  await new Promise((resolve) => setTimeout(resolve, 300))
  expect(screen.ended).toBe(false)
})
