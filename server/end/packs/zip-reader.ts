import { createHash } from 'node:crypto'
import { statSync } from 'node:fs'
import { open as openFile } from 'node:fs/promises'
import type { Entry, ZipFile } from 'yauzl'
import { type Manifest, manifestHead, manifestShape, PACK_FORMAT, PACK_VERSION } from './manifest.contract'
import { type Archive, openArchive } from './zip-entries'
import { digestOf, MANIFEST_PATH, SEAL_HEAD, SIGNATURE_PATH } from './zip-writer'

/**
 * Reads a pack. Nothing of it is in memory but the list of its contents and a few kilobytes of the file that is being read:
 * whoever made it may have meant to fill the memory of whoever reads it. Sizes are those of the manifest, and ceilings.
 */
export interface ZipReader {
  manifest: Manifest
  manifestSha256: string
  /** The bytes of one file as they come. When they have come, they have the length and digest that the manifest names; refused in words where not. */
  stream(path: string): AsyncIterable<Uint8Array>
  /** The bytes of one small file at once; refused when it has more than `most`. */
  read(path: string, most?: number): Promise<Buffer>
  /** What stands in the place of the signature over the manifest; nothing yet says that it holds. */
  readSignature(): Promise<Buffer>
  close(): void
}

const MOST_READ_AT_ONCE = 32 * 1024 * 1024
/** What the manifest needs for itself, and for each file that is in the archive. */
const MANIFEST_HEAD_BYTES = 512 * 1024
const MANIFEST_BYTES_A_FILE = 1024
const MOST_SIGNATURE_BYTES = 8192

/** Opens a pack and reads its manifest. Throws, in words that name the file, whatever is wrong with it. */
export async function openZipReader(file: string): Promise<ZipReader> {
  const archive = await openArchive(file)
  const { zip, entries } = archive
  try {
    const { manifest, sha256: manifestSha256 } = await readManifest(archive)
    const own = manifest.version === 1 ? [MANIFEST_PATH] : [MANIFEST_PATH, SIGNATURE_PATH]
    const wanted = new Map(manifest.files.map((one) => [one.path, one]))
    if (wanted.size < manifest.files.length) throw new Error(`The pack is damaged: ${MANIFEST_PATH} names a file twice.`)
    const strange = [...entries.keys()].find((path) => !own.includes(path) && !wanted.has(path))
    if (strange !== undefined) throw new Error(`The pack is damaged: it holds a file that its manifest does not name, ${strange}.`)

    const stream = async function* (path: string) {
      const [entry, named] = [entries.get(path), wanted.get(path)]
      if (!entry || !named) throw new Error(`The pack is not whole: ${path} is missing.`)
      if (entry.uncompressedSize !== named.bytes) throw damaged(path)
      const sum = createHash('sha256')
      for await (const chunk of streamEntry(zip, entry, named.bytes, path)) {
        sum.update(chunk)
        yield chunk
      }
      if (sum.digest('hex') !== named.sha256) throw damaged(path)
    }
    return {
      manifest,
      manifestSha256,
      stream,
      async read(path, most = MOST_READ_AT_ONCE) {
        const size = wanted.get(path)?.bytes ?? 0
        if (size > most) throw new Error(`The pack is damaged: ${path} has ${size} bytes, and ${most} at most are read of it.`)
        return gathered(stream(path))
      },
      async readSignature() {
        const entry = entries.get(SIGNATURE_PATH)
        if (!entry)
          throw new Error(`The pack is damaged: it has no ${SIGNATURE_PATH}, so nothing says that its manifest is what the house wrote.`)
        return gathered(streamEntry(zip, entry, MOST_SIGNATURE_BYTES, SIGNATURE_PATH))
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

async function readManifest({ zip, entries }: Archive): Promise<{ manifest: Manifest; sha256: string }> {
  const entry = entries.get(MANIFEST_PATH)
  if (!entry) throw new Error(`This archive is not a pack: it has no ${MANIFEST_PATH}.`)
  const most = MANIFEST_HEAD_BYTES + MANIFEST_BYTES_A_FILE * entries.size
  if (entry.uncompressedSize > most)
    throw new Error(
      `The pack is damaged: its ${MANIFEST_PATH} has ${entry.uncompressedSize} bytes, and that of a pack of ${entries.size - 1} files has ${most} at most.`,
    )
  const bytes = await gathered(streamEntry(zip, entry, most, MANIFEST_PATH))
  let content: unknown
  try {
    content = JSON.parse(bytes.toString('utf8'))
  } catch (cause) {
    throw damaged(MANIFEST_PATH, cause)
  }
  const head = manifestHead.safeParse(content)
  if (!head.success || head.data.format !== PACK_FORMAT)
    throw new Error(`This archive is not a pack: its ${MANIFEST_PATH} is of another kind.`)
  if (head.data.version > PACK_VERSION)
    throw new Error(
      `The pack is of version ${head.data.version} of its format; this program reads up to version ${PACK_VERSION}. Read it with a newer program.`,
    )
  const manifest = manifestShape.safeParse(content)
  if (!manifest.success) {
    const [issue] = manifest.error.issues
    throw new Error(`The pack is damaged: ${MANIFEST_PATH} is not what was written, at ${issue?.path.join('.') || 'its head'}.`)
  }
  return { manifest: manifest.data, sha256: createHash('sha256').update(bytes).digest('hex') }
}

/** The bytes of an entry as they come, and never more than `most`, whatever the archive says about its length. */
async function* streamEntry(zip: ZipFile, entry: Entry, most: number, path: string): AsyncGenerator<Uint8Array> {
  const chunks = await new Promise<NodeJS.ReadableStream>((resolve, reject) =>
    zip.openReadStream(entry, (reason, opened) => (opened ? resolve(opened) : reject(damaged(path, reason)))),
  )
  let size = 0
  const next = chunks[Symbol.asyncIterator]() as AsyncIterator<Buffer>
  try {
    for (;;) {
      const step = await next.next().catch((cause: unknown) => {
        throw damaged(path, cause)
      })
      if (step.done) return
      size += step.value.byteLength
      if (size > most) throw damaged(path)
      yield step.value
    }
  } finally {
    await next.return?.()
  }
}

async function gathered(chunks: AsyncIterable<Uint8Array>): Promise<Buffer> {
  const all: Uint8Array[] = []
  for await (const chunk of chunks) all.push(chunk)
  return Buffer.concat(all)
}

const damaged = (path: string, cause?: unknown): Error => new Error(`The pack is damaged: ${path} is not what was written.`, { cause })
