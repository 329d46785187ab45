import { existsSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { makeBackup, restoreBackup } from './runtime/backup'
import { readConfig } from './runtime/config'
import { rotateKey } from './runtime/keys'

const USAGE = `  npm run backup [-- folder]    copies the house into a new folder below it (./data/backups)
  npm run restore -- folder     puts such a copy back; close the house first
  npm run rotate-key            makes another signing key; what the earlier ones signed still verifies`

async function main([verb, folder]: string[]): Promise<string> {
  const { dataDir, port } = readConfig()
  if (verb === 'backup') {
    const file = join(dataDir, 'tagstrip.db')
    if (!existsSync(file)) throw new Error(`There is no house in ${dataDir}. Set DATA_DIR to its folder.`)
    const handle = new Database(file, { readonly: true })
    const made = await makeBackup(handle, dataDir, folder ?? join(dataDir, 'backups'), Date.now())
    handle.close()
    return `Copied to ${made}. It holds the signing keys and mail addresses: keep it where only you can read it.`
  }
  if (verb === 'restore' && folder) {
    const answers = await fetch(`http://127.0.0.1:${port}/api/health`).catch(() => null)
    if (answers?.ok) throw new Error(`A house is open on port ${port}. Close it first.`)
    const aside = restoreBackup(folder, dataDir, Date.now())
    return `Restored into ${dataDir}.${aside ? ` What stood there is in ${aside}.` : ''}`
  }
  if (verb === 'rotate-key') {
    const keysDir = join(dataDir, 'keys')
    if (!existsSync(keysDir)) throw new Error(`There is no house in ${dataDir}. Set DATA_DIR to its folder.`)
    const kid = rotateKey(keysDir, Date.now())
    return `The house signs with the key ${kid} from its next start on. The earlier keys stay published. Say the new fingerprint on the stream.`
  }
  throw new Error(`What shall be done?\n${USAGE}`)
}

main(process.argv.slice(2)).then(
  (words) => process.stdout.write(`${words}\n`),
  (reason) => {
    process.stderr.write(`${reason instanceof Error ? reason.message : String(reason)}\n`)
    process.exit(1)
  },
)
