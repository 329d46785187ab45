import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { copyWatched } from '#house/open/copy-watched'
import { openHouse } from '#house/open/house'
import type { CopyState } from '#runtime/elsewhere/copy-age.rules'
import { NOWHERE } from '#runtime/elsewhere/elsewhere'
import { openMachine } from '#runtime/queue/machine'
import { wallClock } from '#runtime/queue/stamp'
import type { CopySettings } from '#runtime/settings/copy-settings'
import { openLog } from '#runtime/settings/log'

const look = (state: CopyState) => copyWatched({ ...NOWHERE, state: () => state }).look(0)
const well: CopyState = { isOn: true, ageSeconds: 2, lateSeconds: 2, trouble: null, note: null }

test('seconds old is good; on the same disk is worth a look; what is not kept is bad and says why', () => {
  expect(look(well)).toEqual({ value: 2, standing: 'good', words: 'Copied elsewhere 2 seconds ago.', toDo: null })
  expect(look({ ...well, note: 'It lies on the same disk as the house.' })).toMatchObject({
    standing: 'look',
    toDo: expect.stringContaining('another disk'),
  })
  const behind = look({ ...well, ageSeconds: 900, trouble: '/mnt/copy: there is no such folder' })
  expect(behind).toMatchObject({ value: 900, standing: 'bad' })
  expect(behind.words).toBe('The copy elsewhere is 15 minutes old: /mnt/copy: there is no such folder.')
  expect(look({ ...well, ageSeconds: null, trouble: 'nobody answers' })).toMatchObject({ value: null, standing: 'bad' })
})

test('it is asked anew at each look; some minutes after it went stale the house is not ready, at once its maker is told', () => {
  let state = well
  const watched = copyWatched({ ...NOWHERE, state: () => state })
  expect(watched.look(0).standing).toBe('good')
  state = { ...well, ageSeconds: 60, lateSeconds: 60, trouble: 'nobody answers' }
  expect(watched.look(0)).toMatchObject({ standing: 'bad', isReadyStill: true })
  for (const ageSeconds of [400, null]) {
    state = { ...well, ageSeconds, lateSeconds: 400, trouble: 'nobody answers' }
    expect(watched.look(0)).toMatchObject({ standing: 'bad', isReadyStill: false })
  }
  expect(watched.whenNotReady).toBe('The copy elsewhere is too old.')
})

test('it is watched where COPY_TO is set, and nowhere else', async () => {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-watched-'))
  const open = async (dataDir: string, copy: CopySettings | null) => {
    const house = openHouse({
      dataDir: join(dir, dataDir),
      migrationsDir: join(import.meta.dirname, '..', '..', '..', 'db', 'migrations'),
      publicUrl: 'https://bench.example',
      isDemo: false,
      clock: wallClock(openMachine()),
      log: openLog('silent'),
      copy,
    })
    house.startTicking()
    const watched = house.vitals.list().map(({ key }) => key)
    house.stopTicking()
    await house.elsewhere.stop()
    house.close()
    return watched
  }
  try {
    const path = join(dir, 'other-disk')
    mkdirSync(path)
    const means = { keyFile: undefined, endpoint: undefined, region: 'us-east-1', accessKeyId: undefined, secretAccessKey: undefined }
    const copy: CopySettings = {
      to: { kind: 'folder', path },
      passphrase: { words: 'six green drawers under the stairs' },
      means: { ...means, litestream: undefined },
    }
    expect(await open('with', copy)).toContain('elsewhere-age')
    const without = await open('without', null)
    expect(without).not.toContain('elsewhere-age')
    expect(without).not.toContain('machines-reached')
    expect(without).toContain('copy-age')
  } finally {
    rmSync(dir, { recursive: true, force: true })
  }
})
