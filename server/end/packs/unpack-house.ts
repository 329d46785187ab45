import { cpSync, createWriteStream, existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import Database from 'better-sqlite3'
import { readKeySet } from '#bench/certificates/key-set.rules'
import { MOST_PHOTOGRAPH_BYTES } from '#runtime/disk/files'
import { isKeptFile } from '#runtime/disk/house-files'
import { earlierKeysFile, openKeys, publicKeysIn } from '#runtime/disk/keys'
import { refuseFullDisk } from '#runtime/disk/room'
import { beginSwap, isFullDisk } from '#runtime/disk/swap'
import { fillDatabase } from './fill-database'
import type { Manifest } from './manifest.contract'
import { MOST_KEYS_BYTES, PUBLIC_KEYS, readSigner, signerWords } from './pack-signature'
import { countRows } from './tables.store'
import { checkSeal, openZipReader, type ZipReader } from './zip-reader'

export interface Unpacked {
  manifest: Manifest
  /** Where what stood there is now: a house that was opened once and is empty. */
  former: string | null
}

/**
 * Reads a pack back into an empty installation, whole or not at all: everything is checked and built beside what stands in
 * `dataDir` and takes its place only when the same totals came out. Throws, in words, at whatever is wrong.
 */
export async function unpackHouse(file: string, dataDir: string, migrationsDir: string, say: (words: string) => void): Promise<Unpacked> {
  refuseFull(dataDir)
  if (!existsSync(file)) throw new Error(`There is no file ${file}.`)
  const reader = await openZipReader(file)
  try {
    const { manifest } = reader
    refuseUnreadable(manifest, migrationsDir)
    const signer = await readSigner(reader, publicKeysIn(join(dataDir, 'keys')))
    say(signerWords(signer))
    refuseTooLarge(manifest, dataDir)
    await checkFiles(reader)
    await checkSeal(file)
    say(`${manifest.files.length} files are what was written.`)
    const swap = beginSwap(dataDir, { at: Date.now(), as: 'npm run unpack', mayHold: file })
    try {
      // Somebody may have begun there meanwhile.
      refuseFull(dataDir)
      mkdirSync(join(swap.beside, 'keys'), { recursive: true, mode: 0o700 })
      await layFiles(reader, swap.beside)
      // Before anything is sealed, so that it is sealed by the key that the house will have.
      keepOwnKeys(dataDir, swap.beside)
      await fillDatabase({ reader, file: join(swap.beside, 'tagstrip.db'), keys: openKeys(join(swap.beside, 'keys')), migrationsDir, say })
    } catch (reason) {
      swap.abandon()
      if (!isFullDisk(reason)) throw reason
      throw new Error(`The pack could not be read into ${dataDir}: the disk is full. Nothing was changed.`, { cause: reason })
    }
    return { manifest, former: swap.commit() }
  } finally {
    reader.close()
  }
}

/** Refuses a folder in which there is a house with anything in it. One that was only opened once has no campaign and no people yet. */
function refuseFull(dataDir: string): void {
  const file = join(dataDir, 'tagstrip.db')
  if (!existsSync(file)) return
  const house = new Database(file, { readonly: true })
  try {
    const isEmpty = ['campaign', 'person', 'design', 'donor'].every((table) => countRows(house, table) === 0)
    if (!isEmpty)
      throw new Error(`There is a house in ${dataDir} already. A pack is read into an empty installation: set DATA_DIR to a new folder.`)
  } finally {
    house.close()
  }
}

function refuseUnreadable(manifest: Manifest, migrationsDir: string): void {
  if (!manifest.isWhole) {
    const sealed = manifest.leftOut.find((words) => words.startsWith('sealed')) ?? 'something was left out of it'
    throw new Error(`The pack cannot be read back: ${sealed}. Make another one when all lots have ended.`)
  }
  if (!existsSync(join(migrationsDir, manifest.schema)))
    throw new Error(
      `The pack was made by a later program: this one does not know the step ${manifest.schema} of the database. Update the program first.`,
    )
}

/** Sizes stand in the manifest, so what cannot be taken is refused before a byte of it is written. */
function refuseTooLarge({ files }: Manifest, onDisk: string): void {
  const large = files.find(({ path, bytes }) => path.startsWith('photographs/') && bytes > MOST_PHOTOGRAPH_BYTES)
  if (large) throw new Error(`${large.path} has ${large.bytes} bytes; a photograph of a house has ${MOST_PHOTOGRAPH_BYTES} at most.`)
  const bytesOf = (folder: string) => files.reduce((sum, { path, bytes }) => (path.startsWith(folder) ? sum + bytes : sum), 0)
  // The tables stand in the database, and until it is closed in its log too.
  refuseFullDisk(onDisk, bytesOf('photographs/') + 3 * bytesOf('tables/'))
}

async function checkFiles({ manifest, stream }: ZipReader): Promise<void> {
  for (const { path } of manifest.files) for await (const _chunk of stream(path));
}

async function layFiles({ manifest, stream, read }: ZipReader, beside: string): Promise<void> {
  mkdirSync(join(beside, 'photographs'), { recursive: true })
  for (const { path } of manifest.files) {
    const [folder, name = ''] = path.split('/', 2)
    if (folder === 'photographs' && path === `${folder}/${name}` && isKeptFile(name))
      await pipeline(stream(path), createWriteStream(join(beside, 'photographs', name), { flush: true }))
  }
  const keys = readKeySet(JSON.parse((await read(PUBLIC_KEYS, MOST_KEYS_BYTES)).toString('utf8')))
  if ('fault' in keys) throw new Error(`The pack is damaged: ${PUBLIC_KEYS} cannot be believed. ${keys.fault}`)
  writeFileSync(earlierKeysFile(join(beside, 'keys')), await read(PUBLIC_KEYS, MOST_KEYS_BYTES))
}

/** A house that was opened once has keys already. They are kept for signing; the earlier house's public keys verify what it signed. */
function keepOwnKeys(dataDir: string, beside: string): void {
  const own = join(dataDir, 'keys')
  if (!existsSync(own)) return
  for (const name of readdirSync(join(beside, 'keys'))) if (!name.endsWith('.json')) rmSync(join(beside, 'keys', name))
  for (const name of readdirSync(own)) cpSync(join(own, name), join(beside, 'keys', name))
}
