import { afterEach, beforeEach, expect, test } from 'vitest'
import type { Role } from '#kernel/role'
import { setRole } from '#people/people/people.service'
import { makeAuthenticator } from '#test/make/authenticator'
import { openStage, type Stage } from '#test/stage'

const PHONE = { name: 'my phone' }
let stage: Stage
beforeEach(() => {
  stage = openStage({ now: Date.now() })
})
afterEach(() => stage.close())

/** Somebody with a session of their own in a browser of their own, whose cookies are kept from call to call. */
async function signedIn(role: Role, name?: string) {
  const actor = await stage.actor(role, name)
  const jar = await stage.house.signIn.openSession(actor.personId, 'Firefox on Linux')
  return { actor, jar, call: () => stage.inBrowser(jar) }
}

async function withPasskey(role: Role, name?: string, device = makeAuthenticator()) {
  const person = await signedIn(role, name)
  await person.call().passkeys.register({ name: 'my phone', response: device.make(await person.call().passkeys.toRegister(PHONE)) })
  return { ...person, device }
}

const rows = () => stage.db.all<{ person_id: string; credential_id: string; counter: number; name: string }>('SELECT * FROM passkey')
const sessions = () => stage.db.all<{ person_id: string; confirmed_at: number | null }>('SELECT * FROM session')

test('one of the staff keeps a passkey and signs in with it elsewhere, without a word or an address', async () => {
  const { actor, device } = await withPasskey('host', 'Ada')
  const jar: string[] = []
  const options = await stage.visitor(jar).passkeys.toSignIn()
  expect(options.allowCredentials ?? []).toEqual([])
  expect(options.userVerification).toBe('required')
  expect(await stage.visitor(jar).passkeys.signIn({ response: device.sign(options) })).toEqual({ role: 'host' })
  expect(stage.house.signIn.whoIs(jar.map((one) => one.split(';')[0]).join('; '))).toMatchObject({ personId: actor.personId })
  expect(jar.join()).toMatch(/session_token=[^;]+;.*HttpOnly/)
})

test('the list says what it is called and when it was made; it can be called otherwise, and removed', async () => {
  const { call, device } = await withPasskey('maker')
  const { passkeys } = await call().sessions.mine()
  expect(passkeys).toEqual([{ id: expect.any(String), name: 'my phone', madeAt: expect.any(Number), isBackedUp: false }])
  const id = passkeys[0]?.id ?? ''
  await call().passkeys.rename({ id, name: 'the old phone' })
  expect((await call().sessions.mine()).passkeys[0]?.name).toBe('the old phone')
  await call().passkeys.remove({ id })
  expect((await call().sessions.mine()).passkeys).toEqual([])
  const jar: string[] = []
  await expect(stage.visitor(jar).passkeys.signIn({ response: device.sign(await stage.visitor(jar).passkeys.toSignIn()) })).rejects.toThrow(
    'does not work',
  )
})

test('nobody names or removes a passkey of somebody else', async () => {
  const { call } = await withPasskey('maker')
  const id = (await call().sessions.mine()).passkeys[0]?.id ?? ''
  const other = await signedIn('host')
  await expect(other.call().passkeys.rename({ id, name: 'mine' })).rejects.toThrow('already been removed')
  await expect(other.call().passkeys.remove({ id })).rejects.toThrow('already been removed')
  expect(rows()).toHaveLength(1)
})

test('a key is asked for by the staff alone, and only once it is sure that it is them', async () => {
  const bidder = await signedIn('bidder')
  await expect(bidder.call().passkeys.toRegister(PHONE)).rejects.toThrow('done by the')
  const host = await signedIn('host')
  stage.db.run(`UPDATE session SET created_at = created_at - 601000`)
  await expect(host.call().passkeys.toRegister(PHONE)).rejects.toThrow('First confirm')
  await expect(host.call().passkeys.register({ name: 'x', response: makeAuthenticator().make({ challenge: 'AAAA' }) })).rejects.toThrow(
    'First confirm',
  )
})

test('a key of another account is not kept a second time: no two accounts share one', async () => {
  const { device } = await withPasskey('maker')
  const [id = ''] = device.ids()
  const other = await signedIn('host')
  const response = makeAuthenticator().make(await other.call().passkeys.toRegister(PHONE), id)
  await expect(other.call().passkeys.register({ name: 'the same', response })).rejects.toThrow('could not be saved')
  expect(rows()).toHaveLength(1)
})

test('an answer counts once, for its own asking, and not that of another browser', async () => {
  const { device } = await withPasskey('maker')
  const jar: string[] = []
  const response = device.sign(await stage.visitor(jar).passkeys.toSignIn())
  const stolen: string[] = []
  await stage.visitor(stolen).passkeys.toSignIn()
  await expect(stage.visitor(stolen).passkeys.signIn({ response })).rejects.toThrow('does not work')
  await expect(stage.visitor([]).passkeys.signIn({ response })).rejects.toThrow('does not work')
  await stage.visitor(jar).passkeys.signIn({ response })
  await expect(stage.visitor(jar).passkeys.signIn({ response })).rejects.toThrow('does not work')
})

test('an answer for another site, without asking who holds the device, or of a copied key that counts behind is refused', async () => {
  const { device } = await withPasskey('maker')
  const tryIt = async () => {
    const jar: string[] = []
    return stage.visitor(jar).passkeys.signIn({ response: device.sign(await stage.visitor(jar).passkeys.toSignIn()) })
  }
  await expect(tryIt()).resolves.toEqual({ role: 'maker' })
  device.lie.origin = 'https://elsewhere.example'
  await expect(tryIt()).rejects.toThrow('does not work')
  device.lie.origin = 'https://bench.example'
  device.lie.asksWhoHoldsIt = false
  await expect(tryIt()).rejects.toThrow('does not work')
  device.lie.asksWhoHoldsIt = true
  device.lie.count = 1
  await expect(tryIt()).rejects.toThrow('does not work')
  device.lie.count = null
  await expect(tryIt()).resolves.toEqual({ role: 'maker' })
})

test('a device that does not ask who holds it gets no key here', async () => {
  const { call } = await signedIn('maker')
  const device = makeAuthenticator()
  device.lie.asksWhoHoldsIt = false
  const response = device.make(await call().passkeys.toRegister(PHONE))
  await expect(call().passkeys.register({ name: 'my phone', response })).rejects.toThrow('could not be saved')
  expect(rows()).toEqual([])
})

test('one has twenty passkeys at most', async () => {
  const { call } = await signedIn('maker')
  for (let n = 0; n < 20; n++)
    await call().passkeys.register({ name: `key ${n}`, response: makeAuthenticator().make(await call().passkeys.toRegister(PHONE)) })
  await expect(call().passkeys.toRegister(PHONE)).rejects.toThrow('20 passkeys')
})

test('a visitor who asks for passkeys again and again is turned away', async () => {
  for (let n = 0; n < 30; n++) await stage.visitor([], '192.0.2.77').passkeys.toSignIn()
  await expect(stage.visitor([], '192.0.2.77').passkeys.toSignIn()).rejects.toThrow('too often')
  await expect(stage.visitor([], '192.0.2.78').passkeys.toSignIn()).resolves.toBeTruthy()
})

test('a session that has not been confirmed for ten minutes is, after a passkey, for ten minutes more, and no other session opens', async () => {
  const { call, device } = await withPasskey('maker')
  stage.db.run('UPDATE session SET created_at = created_at - 601000')
  await expect(call().people.setRole({ email: 'cy@elsewhere.example', role: 'host' })).rejects.toThrow('First confirm')
  await call().confirm.byPasskey({ response: device.sign(await call().confirm.toPasskey()) })
  await call().people.setRole({ email: 'cy@elsewhere.example', role: 'host' })
  expect(sessions()).toHaveLength(1)
  stage.db.run('UPDATE session SET confirmed_at = confirmed_at - 601000')
  await expect(call().people.setRole({ email: 'di@elsewhere.example', role: 'host' })).rejects.toThrow('First confirm')
})

test('a passkey of somebody else confirms nothing and opens no session', async () => {
  const { device } = await withPasskey('host', 'Bo')
  const maker = await signedIn('maker')
  stage.db.run('UPDATE session SET created_at = created_at - 601000')
  const options = await maker.call().confirm.toPasskey()
  await expect(maker.call().confirm.byPasskey({ response: device.sign(options) })).rejects.toThrow('somebody else')
  await expect(maker.call().people.setRole({ email: 'cy@elsewhere.example', role: 'host' })).rejects.toThrow('First confirm')
  expect(sessions()).toHaveLength(2)
})

test('only one’s own keys are asked for to confirm', async () => {
  const { device } = await withPasskey('host', 'Bo')
  const maker = await withPasskey('maker')
  const { allowCredentials } = await maker.call().confirm.toPasskey()
  expect(allowCredentials?.map(({ id }) => id)).toEqual(maker.device.ids())
  expect(allowCredentials?.map(({ id }) => id)).not.toEqual(device.ids())
  expect(await maker.call().confirm.ways()).toEqual({ email: 'maker@maker.example', hasPasskey: true, publicUrl: 'https://bench.example' })
})

test('a passkey stays with who held it when their role is taken away, and opens what a bidder may do', async () => {
  const { actor, device } = await withPasskey('host', 'Ada')
  await stage.command((turn) => setRole(turn, { email: actor.email, role: 'bidder' }))
  const jar: string[] = []
  expect(await stage.visitor(jar).passkeys.signIn({ response: device.sign(await stage.visitor(jar).passkeys.toSignIn()) })).toEqual({
    role: 'bidder',
  })
})
