import { existsSync, statSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import type { Sealing } from '../queue/sealing'
import { hasSigningKeys, openSealing, SEAL_SECRET, secretFile } from './keys'

// By which key the house's maxima and reserves are sealed. The database keeps a digest of it, which opens nothing.

const digestOf = ({ seal }: Sealing): string => Buffer.from(seal('which key sealed this database')).toString('hex')

/**
 * Refuses, before anything is opened or made, a house whose key of seals is not there or is another one: its maxima and
 * reserves could not be read, and new ones would be sealed by a key that opens none of the others.
 */
export function refuseOtherKey(dataDir: string): void {
  const file = join(dataDir, 'tagstrip.db')
  refuseLostSigningKeys(file, join(dataDir, 'keys'))
  const known = existsSync(file) ? readDigest(file) : null
  if (known === null) return
  const keysDir = join(dataDir, 'keys')
  const secret = secretFile(keysDir, SEAL_SECRET)
  const what = !existsSync(secret)
    ? `The key of the sealed maxima and reserves is missing: ${secret}.`
    : digestOf(openSealing(keysDir)) !== known
      ? `The maxima and reserves in ${file} were sealed by another key than the one in ${secret}.`
      : null
  if (what)
    throw new Error(
      `${what} Without it nobody can read them, and no lot can be closed rightly. Put the file back from the folder "keys" of a backup of this house, or restore that backup whole.`,
    )
}

/** A new database under keys that have signed before would be another house that passes for the first one. */
export function refuseLostDatabase(dataDir: string): void {
  const file = join(dataDir, 'tagstrip.db')
  const keysDir = join(dataDir, 'keys')
  const size = statSync(file, { throwIfNoEntry: false })?.size ?? 0
  if (size > 0 || !hasSigningKeys(keysDir)) return
  throw new Error(
    `There are keys of a house in ${keysDir}, and no database beside them: ${file} is ${existsSync(file) ? 'empty' : 'not there'}. Nothing was changed. Put the newest copy back, from backups or from the copy elsewhere: npm run restore -- folder. If this house never opened, delete the folder "keys" and start again.`,
  )
}

/** With a new key alone the house would call its own certificates and histories forged. */
function refuseLostSigningKeys(file: string, keysDir: string): void {
  if (!existsSync(file) || hasSigningKeys(keysDir) || !hasSigned(file)) return
  throw new Error(
    `The signing keys of this house are missing: there is none in ${keysDir}, and certificates or histories were signed with them. Put the files that end in .pem back from the folder "keys" of a backup of this house, or restore that backup whole.`,
  )
}

function hasSigned(file: string): boolean {
  const handle = new Database(file, { readonly: true })
  try {
    return ['certificate', 'ledger_head'].some((table) => {
      const isThere = handle.prepare("SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?").get(table) !== undefined
      return isThere && handle.prepare(`SELECT 1 FROM ${table} LIMIT 1`).get() !== undefined
    })
  } finally {
    handle.close()
  }
}

/** Notes by which key the house seals, once. */
export function noteSealedBy(handle: Database.Database, keys: Sealing): void {
  handle.prepare('INSERT OR IGNORE INTO sealed_by (id, key_digest) VALUES (1, ?)').run(digestOf(keys))
}

/** Null before anything was sealed. */
function readDigest(file: string): string | null {
  const handle = new Database(file, { readonly: true })
  try {
    const hasTable = handle.prepare("SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = 'sealed_by'").get() !== undefined
    return hasTable ? ((handle.prepare('SELECT key_digest FROM sealed_by').pluck().get() as string | undefined) ?? null) : null
  } finally {
    handle.close()
  }
}
