import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openPlace } from '#runtime/elsewhere/open-place'
import type { Place } from '#runtime/elsewhere/place'
import { readConfig } from '#runtime/settings/config'
import { openStore } from '#test/make/s3-store'
import { openSshd, SSHD } from '#test/make/sshd'

const dir = mkdtempSync(join(tmpdir(), 'tagstrip-places-'))
const { copyMeans } = readConfig({ NODE_ENV: 'test' })
const opened: Record<string, Place> = {}
let store: Awaited<ReturnType<typeof openStore>>
let sshd: Awaited<ReturnType<typeof openSshd>> | null = null
const s3 = (secretAccessKey: string, bucket = 'copies') =>
  openPlace({ kind: 's3', bucket, prefix: 'a house' }, { ...copyMeans, endpoint: store.endpoint, accessKeyId: 'the-key', secretAccessKey })

beforeAll(async () => {
  mkdirSync(join(dir, 'place'))
  opened['a folder'] = openPlace({ kind: 'folder', path: join(dir, 'place') }, copyMeans)
  store = await openStore()
  opened['a store'] = s3('the-secret')
  if (SSHD === null) return
  sshd = await openSshd()
  const { port, user, keyFile, far } = sshd
  opened['another machine'] = openPlace(
    { kind: 'sftp', user, host: '127.0.0.1', port, path: join(far, 'far away') },
    { ...copyMeans, keyFile, knownHosts: known(sshd.hostKey()) },
  )
}, 30_000)
afterAll(async () => {
  for (const place of Object.values(opened)) await place.close()
  await store.close()
  sshd?.stop()
  rmSync(dir, { recursive: true, force: true })
})

function known(hostKey: string): string {
  const file = join(dir, `known-${hostKey.length}`)
  writeFileSync(file, `[127.0.0.1]:${sshd?.port} ${hostKey}\n`)
  return file
}

const KINDS = ['a folder', 'a store', ...(SSHD === null ? [] : ['another machine'])]
test.skipIf(SSHD !== null)('left out: another machine, since there is no sshd here', () => {})

describe.each(KINDS)('%s', (kind) => {
  const place = () => opened[kind] as Place

  test('takes files and gives them back, lists them, and lets them go', async () => {
    const errands = Array.from({ length: 45 }, (_, n) => ({
      from: join(dir, `${kind} ${n}`),
      to: `photographs/${'ab'.repeat(n + 1)}.webp`,
    }))
    for (const [n, { from }] of errands.entries()) writeFileSync(from, `what is in ${n}`)
    expect(await place().list('photographs')).toEqual([])
    await place().put(errands)
    expect((await place().list('photographs')).sort()).toEqual(errands.map(({ to }) => to.slice('photographs/'.length)).sort())
    await place().fetch(errands.map(({ to }) => ({ from: to, to: join(dir, 'back', kind, to) })))
    for (const [n, { to }] of errands.entries()) expect(readFileSync(join(dir, 'back', kind, to), 'utf8')).toBe(`what is in ${n}`)
    const [gone, ...left] = errands
    await place().remove([gone?.to ?? '', 'photographs/never-there.webp'])
    expect(await place().list('photographs')).toHaveLength(left.length)
  }, 30_000)

  test('keeps a small file, which is read whole and written over; what is not there is null', async () => {
    expect(await place().read('house.json')).toBeNull()
    await place().write('house.json', Buffer.from('one'))
    await place().write('house.json', Buffer.from('another'))
    expect(String(await place().read('house.json'))).toBe('another')
  }, 30_000)
})

test('a folder that is not there is not made in the place of a disk that is not mounted', async () => {
  const place = openPlace({ kind: 'folder', path: join(dir, 'not there') }, copyMeans)
  await expect(place.put([{ from: join(dir, 'a folder 0'), to: 'a' }])).rejects.toThrow('is not there. Mount its disk, or make the folder')
  expect(existsSync(join(dir, 'not there'))).toBe(false)
})

test('a store that does not know the key or the bucket says so', async () => {
  await expect(s3('another-secret').write('house.json', Buffer.from('x'))).rejects.toThrow(
    'the store refuses the key (SignatureDoesNotMatch)',
  )
  await expect(s3('the-secret', 'nothing-here').read('house.json')).rejects.toThrow('no such bucket')
})

test.skipIf(SSHD === null)('another machine whose key is not known is not believed', async () => {
  if (!sshd) return
  const empty = join(dir, 'nobody')
  writeFileSync(empty, '')
  const place = openPlace(
    { kind: 'sftp', user: sshd.user, host: '127.0.0.1', port: sshd.port, path: '/' },
    { ...copyMeans, keyFile: sshd.keyFile, knownHosts: empty },
  )
  await expect(place.read('house.json')).rejects.toThrow('OpenSSH does not know the key of 127.0.0.1')
  await place.close()
})
