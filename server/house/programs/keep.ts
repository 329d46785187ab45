import { existsSync } from 'node:fs'
import { constants, setPriority } from 'node:os'
import { join, resolve } from 'node:path'
import Database from 'better-sqlite3'
import { drizzle } from 'drizzle-orm/better-sqlite3'
import * as schema from '#db/schema/index'
import { packHouse } from '#end/packs/pack-house'
import { unpackHouse } from '#end/packs/unpack-house'
import { waitingCodes } from '#people/outbox/waiting-codes'
import { makeBackup } from '#runtime/disk/backup'
import { openKeys, rotateKey } from '#runtime/disk/keys'
import { writeForOwnerAlone } from '#runtime/disk/owner-alone'
import { restoreBackup } from '#runtime/disk/restore'
import { refuseOtherKey } from '#runtime/disk/sealed-by'
import { enterFolder } from '#runtime/disk/swap'
import { readConfig } from '#runtime/settings/config'
import { PACK_MEANS } from '../open/pack-means'
import { copyAt } from './copy-at'
import { restoreFrom } from './restore-from'
import { startWords } from './start-words'

const USAGE = `  npm run backup [-- folder]    copies the house into a new folder below it (./data/backups)
  npm run restore -- folder     puts such a copy back; close the house first
  npm run restore -- --from place   the same from a copy that COPY_TO keeps elsewhere
  npm run pack [-- file]        writes everything in open formats into one archive, for reading in ten years
  npm run pack -- file --without-contacts   the same without email addresses and addresses for sending
  npm run unpack -- file        reads such an archive back into an empty DATA_DIR
  npm run code -- address       tells the sign-in codes that wait for an email address, where no mail server is set
  npm run rotate-key            makes another signing key, and signs everybody out; what the earlier ones signed still verifies`

/** These read a house that may be open meanwhile, and want it to stay the one that it is. */
const READING: readonly (string | undefined)[] = ['backup', 'pack', 'code', 'rotate-key']

const say = (words: string) => void process.stdout.write(`${words}\n`)

const TELL_EVERY_MS = 2_000

/** What a long work tells, every other second; what is soon done tells nothing. */
function seldom(tell: (words: string) => void): (words: string) => void {
  let last = performance.now()
  return (words) => {
    if (performance.now() - last < TELL_EVERY_MS) return
    last = performance.now()
    tell(`… ${words}`)
  }
}

const whereFormer = (former: string) =>
  `What stood there is in ${former}, whole: delete it when you do not need it any more. To go back to it, move what is in it up into the data folder while no house is open.`

async function main(words: string[]): Promise<string> {
  writeForOwnerAlone()
  const { dataDir } = readConfig()
  if (!READING.includes(words[0])) return run(words)
  const hold = enterFolder(dataDir, 'reads', `npm run ${words[0]}`, say)
  return run(words).finally(() => hold.release())
}

async function run([verb, folder, ...wishes]: string[]): Promise<string> {
  const { dataDir, publicUrl } = readConfig()
  const migrationsDir = join(process.cwd(), 'db', 'migrations')
  if (verb === 'backup') {
    if (!existsSync(join(dataDir, 'tagstrip.db'))) throw new Error(`There is no house in ${dataDir}. Set DATA_DIR to its folder.`)
    // The house that is open meanwhile comes first.
    setPriority(constants.priority.PRIORITY_BELOW_NORMAL)
    const intoDir = resolve(folder ?? join(dataDir, 'backups'))
    const { dir } = await makeBackup({ dataDir, intoDir, at: Date.now(), madeFor: 'a person' }, seldom(say))
    return `Copied to ${dir}. It holds the signing keys and email addresses: keep it where only you can read it.`
  }
  if (verb === 'restore' && folder === '--from' && wishes[0] !== undefined) {
    const { fetched, former } = await restoreFrom(copyAt(wishes[0]), migrationsDir)
    const newest = new Date(fetched.newestAt).toISOString()
    return `Restored into ${dataDir}: a house that knows what happened until ${newest}, with ${fetched.photographs} files of photographs.${former ? ` ${whereFormer(former)}` : ''}\nSee to it that no other machine opens this house any more. With COPY_TO set to the same place, it goes on being copied there.`
  }
  if (verb === 'restore' && folder && !folder.startsWith('--')) {
    const former = restoreBackup(resolve(folder), resolve(dataDir), { migrationsDir, at: Date.now(), tell: seldom(say) })
    return `Restored into ${dataDir}.${former ? ` ${whereFormer(former)}` : ''}`
  }
  if (verb === 'pack') {
    if (!existsSync(join(dataDir, 'tagstrip.db'))) throw new Error(`There is no house in ${dataDir}. Set DATA_DIR to its folder.`)
    const all = [folder, ...wishes]
    const named = all.find((word) => word !== undefined && !word.startsWith('--'))
    const withContacts = !all.includes('--without-contacts')
    const at = Date.now()
    const file = named ?? `pack-${new Date(at).toISOString().slice(0, 10)}${withContacts ? '' : '-without-contacts'}.zip`
    refuseOtherKey(dataDir)
    const { kid, jwks } = openKeys(join(dataDir, 'keys'))
    const reader = { personId: '', role: 'maker', name: '', email: '' } as const
    const made = await packHouse({ dataDir, migrationsDir, file, at, publicUrl, jwks: jwks(), kid, reader, withContacts }, PACK_MEANS)
    const warning = withContacts ? ' It holds email addresses: keep it where only you can read it.' : ''
    const whole = made.isWhole
      ? ''
      : '\nLots are still open: what is sealed was left out, so it can be read and not be read back. A copy of a running sale is made by backup.'
    return `${made.files} files, ${made.bytes} bytes in ${file}\nSHA-256 ${made.sha256}${warning}${whole}`
  }
  if (verb === 'unpack' && folder) {
    const { manifest, former } = await unpackHouse(folder, dataDir, migrationsDir, say)
    const { campaign, madeAt } = manifest
    if (former) say(whereFormer(former))
    return `${campaign || 'A house without a campaign'}, as it stood at ${madeAt}, is in ${dataDir}.\nIt signs with a key of its own; what the earlier house signed still verifies. Codes on cards that lie in boxes are those of the earlier house and open nothing here.`
  }
  if (verb === 'code' && folder) {
    const file = join(dataDir, 'tagstrip.db')
    if (!existsSync(file)) throw new Error(`There is no house in ${dataDir}. Set DATA_DIR to its folder.`)
    const handle = new Database(file, { readonly: true })
    const db = drizzle(handle, { schema })
    const codes = waitingCodes({ db, keys: openKeys(join(dataDir, 'keys')), now: Date.now() }, folder.trim().toLowerCase())
    handle.close()
    if (codes.length === 0)
      return `No code waits for ${folder}. Ask for one in the browser first; it is good for ten minutes. With a mail server set, codes go by email.`
    const lines = codes.map(({ code, askedAt }) => `${code}  asked for at ${new Date(askedAt).toLocaleTimeString('en-GB')}`)
    return `${lines.join('\n')}\nEach works once, in the browser that asked for it then. Give a code only to the person who asked.`
  }
  if (verb === 'rotate-key') {
    const keysDir = join(dataDir, 'keys')
    if (!existsSync(keysDir)) throw new Error(`There is no house in ${dataDir}. Set DATA_DIR to its folder.`)
    const kid = rotateKey(keysDir, Date.now())
    return `The house signs with the key ${kid} from its next start on. The earlier keys stay published. Say the new fingerprint on the stream.\nFrom then on everybody is signed out and signs in again: the secret of the sessions was replaced too. A house that is open keeps both until it is restarted.`
  }
  throw new Error(`What would you like to do?\n${USAGE}`)
}

main(process.argv.slice(2)).then(
  (words) => process.stdout.write(`${words}\n`),
  (reason) => {
    process.stderr.write(`${startWords(reason)}\n`)
    process.exit(1)
  },
)
