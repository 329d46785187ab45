import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { flattenedVerify, importJWK } from 'jose'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { signPack } from '#end/packs/pack-signature'
import { unpackHouse } from '#end/packs/unpack-house'
import { openZipReader } from '#end/packs/zip-reader'
import { openZipWriter } from '#end/packs/zip-writer'
import { earlierKeysFile, openKeys } from '#runtime/disk/keys'
import type { Keys } from '#runtime/queue/turn'
import { makeCampaign } from '#test/make/campaign'
import { filesOf, MIGRATIONS, packInto } from '#test/make/packed'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let dir: string
let whole: string
beforeAll(async () => {
  stage = openStage()
  await makeCampaign(stage)
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-signature-'))
  whole = await packInto(join(dir, 'whole.zip'), stage)
}, 180_000)
afterAll(() => {
  stage.close()
  rmSync(dir, { recursive: true, force: true })
})

/** What is said while a pack is read back, or why it is not. */
async function said(file: string, target: string): Promise<string> {
  const words: string[] = []
  try {
    await unpackHouse(file, join(dir, target), MIGRATIONS, (line) => words.push(line))
  } catch (reason) {
    return reason instanceof Error ? reason.message : String(reason)
  }
  return words.join('\n')
}

/** The same files again under another campaign's name, signed by whatever signs. */
async function changed(name: string, sign?: (manifestSha256: string) => string, keys?: string): Promise<string> {
  const file = join(dir, name)
  const zip = openZipWriter(file, new Date(0))
  for (const [path, body] of await filesOf(whole)) await zip.add(path, path === 'keys/public-keys.json' && keys ? keys : body)
  const { manifest, close } = await openZipReader(whole)
  close()
  const { files: _files, ...rest } = manifest
  await zip.finish({ ...rest, campaign: 'Another' }, sign)
  return file
}

const stranger = (): Keys => openKeys(join(dir, 'stranger'))

describe('a pack is signed by its house', () => {
  test('with its own key over the digest of the manifest, as another reader of signatures finds too', async () => {
    const reader = await openZipReader(whole)
    const signature = JSON.parse((await reader.readSignature()).toString('utf8'))
    reader.close()
    const key = stage.house.keys.jwks().keys.find(({ kid }) => kid === stage.house.keys.kid)
    const { payload, protectedHeader } = await flattenedVerify(signature, await importJWK(key ?? {}, 'EdDSA'))
    expect(protectedHeader).toEqual({ alg: 'EdDSA', kid: stage.house.keys.kid })
    expect(JSON.parse(Buffer.from(payload).toString('utf8'))).toEqual({
      kind: 'tagstrip-pack',
      version: 1,
      manifestSha256: reader.manifestSha256,
    })
  })

  test('and reading it back says whether its key is known here, or stands in the pack alone', async () => {
    const { kid } = stage.house.keys
    expect(await said(whole, 'alone')).toContain(`(${kid}). That key stands in the pack itself, which proves only that the pack is whole`)
    const keys = join(dir, 'knows', 'keys')
    mkdirSync(keys, { recursive: true })
    writeFileSync(earlierKeysFile(keys), JSON.stringify(stage.house.keys.jwks()))
    expect(await said(whole, 'knows')).toContain(`(${kid}), which this installation knows.`)
  }, 60_000)

  test('one of the earlier version, which has no signature, is read and said to have none', async () => {
    const zip = openZipWriter(join(dir, 'earlier.zip'), new Date(0))
    for (const [path, body] of await filesOf(whole)) await zip.add(path, body)
    const { manifest, close } = await openZipReader(whole)
    close()
    const { files: _files, ...rest } = manifest
    await zip.finish({ ...rest, version: 1 })
    expect(await said(join(dir, 'earlier.zip'), 'earlier')).toContain('It carries no signature, since an earlier program made it')
  }, 60_000)
})

describe('a pack whose manifest was changed is refused', () => {
  test('with the signature of the manifest that it had', async () => {
    const reader = await openZipReader(whole)
    const before = (await reader.readSignature()).toString('utf8')
    reader.close()
    expect(await said(await changed('changed.zip', () => before), 'never')).toBe(
      'The pack is damaged: its manifest is not what the house signed.',
    )
  })

  test('without one, or with something that is none', async () => {
    expect(await said(await changed('unsigned.zip'), 'never')).toContain('The pack is damaged: it has no signature.json')
    expect(await said(await changed('nonsense.zip', () => '{"payload":1}'), 'never')).toBe(
      'The pack is damaged: signature.json is no signature.',
    )
  })

  test('signed by a stranger’s key under the name of the house’s, or by one that stands nowhere', async () => {
    const { sign, kid } = stranger()
    const asTheHouse = (digest: string) => signPack(digest, { kid: stage.house.keys.kid, sign })
    expect(await said(await changed('false-name.zip', asTheHouse), 'never')).toBe(
      'The pack is damaged: its manifest is not what the house signed.',
    )
    expect(await said(await changed('nowhere.zip', (digest) => signPack(digest, { kid, sign })), 'never')).toBe(
      `The pack is signed by the key ${kid}, which neither stands in it nor is known here. It is not read.`,
    )
  })

  test('and one that a stranger signed whole says that its key is not known here', async () => {
    const keys = stranger()
    const file = await changed('strange.zip', (digest) => signPack(digest, keys), JSON.stringify(keys.jwks()))
    expect(await said(file, 'strange')).toContain(`(${keys.kid}). That key stands in the pack itself`)
  }, 60_000)
})
