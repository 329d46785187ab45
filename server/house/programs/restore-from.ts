import { existsSync, mkdirSync, readdirSync, rmdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { forgetHolds } from '#runtime/disk/hold'
import { stampOf } from '#runtime/disk/house-files'
import { firstKeyIn } from '#runtime/disk/keys'
import { restoreBackup } from '#runtime/disk/restore'
import { enterFolder } from '#runtime/disk/swap'
import { type FetchedCopy, fetchCopy } from '#runtime/elsewhere/fetch-copy'
import { readConfig } from '#runtime/settings/config'
import type { CopyTo } from '#runtime/settings/copy-to.rules'
import { passphraseOf } from './ask-passphrase'

/** Brings the house up from what is kept elsewhere: it is fetched whole into the data folder, and put in its place as a backup is. */
export async function restoreFrom(
  from: CopyTo,
  migrationsDir: string,
): Promise<{ dataDir: string; fetched: FetchedCopy; former: string | null }> {
  const { dataDir, copyMeans, copyPassphrase } = readConfig()
  const isNew = !existsSync(dataDir)
  const at = Date.now()
  mkdirSync(dataDir, { recursive: true, mode: 0o700 })
  const into = join(dataDir, `fetched-${stampOf(at)}`)
  try {
    // Whoever has the folder is told before anything is fetched.
    enterFolder(dataDir, 'swaps', 'npm run restore', () => {}).release()
    for (const name of readdirSync(dataDir)) if (name.startsWith('fetched-')) rmSync(join(dataDir, name), { recursive: true })
    const passphrase = await passphraseOf(copyPassphrase)
    const house = firstKeyIn(join(dataDir, 'keys'))
    const fetched = await fetchCopy({ from, passphrase, into, settings: copyMeans, house })
    const former = restoreBackup(into, dataDir, { migrationsDir, at })
    return { dataDir, fetched, former }
  } catch (reason) {
    rmSync(into, { recursive: true, force: true })
    if (isNew) leaveNothing(dataDir)
    throw reason
  } finally {
    rmSync(into, { recursive: true, force: true })
  }
}

function leaveNothing(dataDir: string): void {
  forgetHolds(dataDir)
  if (existsSync(dataDir) && readdirSync(dataDir).length === 0) rmdirSync(dataDir)
}
