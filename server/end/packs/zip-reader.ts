import { createHash } from 'node:crypto'
import { once } from 'node:events'
import { statSync } from 'node:fs'
import { open as openFile } from 'node:fs/promises'
import { type Entry, open, type ZipFile } from 'yauzl'
import { type Manifest, manifestHead, manifestShape, PACK_FORMAT, PACK_VERSION } from './manifest.contract'
import { digestOf, MANIFEST_PATH, SEAL_HEAD } from './zip-writer'

export interface ZipReader {
  manifest: Manifest
  /** The bytes of one file, of the length and digest that the manifest names; refused in words where they are not. */
  read(path: string): Promise<Buffer>
  close(): void
}

const MOST_MANIFEST_BYTES = 64 * 1024 * 1024

/** Opens a pack and reads its manifest. Throws, in words that name the file, whatever is wrong with it. */
export async function openZipReader(file: string): Promise<ZipReader> {
  const { zip, entries } = await openZip(file)
  try {
    const manifest = await readManifest(zip, entries)
    const wanted = new Map(manifest.files.map((one) => [one.path, one]))
    const strange = [...entries.keys()].find((path) => path !== MANIFEST_PATH && !wanted.has(path))
    if (strange !== undefined) throw new Error(`The pack is damaged: it holds a file that its manifest does not name, ${strange}.`)
    return {
      manifest,
      async read(path) {
        const [entry, named] = [entries.get(path), wanted.get(path)]
        if (!entry || !named) throw new Error(`The pack is not whole: ${path} is missing.`)
        const bytes = await readEntry(zip, entry, named.bytes, path)
        if (bytes.byteLength !== named.bytes || sha256(bytes) !== named.sha256)
          throw new Error(`The pack is damaged: ${path} is not what was written.`)
        return bytes
      },
      close: () => zip.close(),
    }
  } catch (reason) {
    zip.close()
    throw reason
  }
}

/** Refuses an archive in which any byte before the seal was changed. This is asked last, so that a damaged file is named where there is one. */
export async function checkSeal(file: string): Promise<void> {
  const { size } = statSync(file)
  const handle = await openFile(file, 'r')
  const comment = Buffer.alloc(SEAL_HEAD.length + 64)
  await handle.read(comment, 0, comment.length, Math.max(0, size - comment.length)).finally(() => handle.close())
  if (comment.toString('latin1') !== `${SEAL_HEAD}${await digestOf(file, size - 64)}`)
    throw new Error('The pack is damaged: its own list of contents is not what was written.')
}

async function openZip(file: string): Promise<{ zip: ZipFile; entries: Map<string, Entry> }> {
  const zip = await new Promise<ZipFile>((resolve, reject) =>
    open(file, { lazyEntries: true, autoClose: false, strictFileNames: true }, (reason, opened) => {
      if (opened) resolve(opened)
      else reject(new Error(`${file} cannot be read as a ZIP archive: ${reason?.message ?? 'it is not one'}.`, { cause: reason }))
    }),
  )
  const entries = new Map<string, Entry>()
  const ended = once(zip, 'end')
  zip.on('entry', (entry: Entry) => {
    if (entries.has(entry.fileName)) zip.emit('error', new Error(`${entry.fileName} stands in it twice`))
    entries.set(entry.fileName, entry)
    zip.readEntry()
  })
  zip.readEntry()
  await ended.catch((reason: Error) => {
    zip.close()
    throw new Error(`The pack is damaged: its own list of contents cannot be read (${reason.message}).`, { cause: reason })
  })
  return { zip, entries }
}

async function readManifest(zip: ZipFile, entries: Map<string, Entry>): Promise<Manifest> {
  const entry = entries.get(MANIFEST_PATH)
  if (!entry) throw new Error(`This archive is no pack: it has no ${MANIFEST_PATH}.`)
  const text = (await readEntry(zip, entry, MOST_MANIFEST_BYTES, MANIFEST_PATH)).toString('utf8')
  let content: unknown
  try {
    content = JSON.parse(text)
  } catch (cause) {
    throw new Error(`The pack is damaged: ${MANIFEST_PATH} is not what was written.`, { cause })
  }
  const head = manifestHead.safeParse(content)
  if (!head.success || head.data.format !== PACK_FORMAT)
    throw new Error(`This archive is no pack: its ${MANIFEST_PATH} is of another kind.`)
  if (head.data.version > PACK_VERSION)
    throw new Error(
      `The pack is of version ${head.data.version} of its format; this program reads up to version ${PACK_VERSION}. Read it with a newer program.`,
    )
  const manifest = manifestShape.safeParse(content)
  if (!manifest.success) {
    const [issue] = manifest.error.issues
    throw new Error(`The pack is damaged: ${MANIFEST_PATH} is not what was written, at ${issue?.path.join('.') || 'its head'}.`)
  }
  return manifest.data
}

/** Reads an entry, and refuses one that gives more than `most` bytes, whatever the archive says about its length. */
async function readEntry(zip: ZipFile, entry: Entry, most: number, path: string): Promise<Buffer> {
  const damaged = (cause: unknown) => new Error(`The pack is damaged: ${path} is not what was written.`, { cause })
  const stream = await new Promise<NodeJS.ReadableStream>((resolve, reject) =>
    zip.openReadStream(entry, (reason, opened) => (opened ? resolve(opened) : reject(damaged(reason)))),
  )
  const parts: Buffer[] = []
  let size = 0
  try {
    for await (const part of stream) {
      size += (part as Buffer).byteLength
      if (size > most) throw new Error('longer than the manifest says')
      parts.push(part as Buffer)
    }
  } catch (cause) {
    throw damaged(cause)
  }
  return Buffer.concat(parts)
}

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex')
