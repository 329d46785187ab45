import { createHash } from 'node:crypto'
import { createReadStream, createWriteStream } from 'node:fs'
import { open } from 'node:fs/promises'
import { Readable } from 'node:stream'
import { finished, pipeline } from 'node:stream/promises'
import { ZipFile } from 'yazl'
import type { Manifest, PackedFile } from './manifest.contract'

export const MANIFEST_PATH = 'manifest.json'
export const SIGNATURE_PATH = 'signature.json'
/** The archive's comment begins so. The digest of every byte before follows, so that a change anywhere is found. */
export const SEAL_HEAD = 'sha256:'

export type Body = string | Uint8Array | Iterable<string> | AsyncIterable<Uint8Array>

export interface ZipWriter {
  files: readonly PackedFile[]
  add(path: string, body: Body): Promise<void>
  /** Writes the manifest and the signature over its digest last, closes and seals the archive; answers its length and its digest. */
  finish(manifest: Omit<Manifest, 'files'>, sign?: (manifestSha256: string) => string): Promise<{ bytes: number; sha256: string }>
}

/** What is in a file. It is opened when its first bytes are asked for: a file that is gone by then is an error of whoever asks, in words. */
export async function* bodyOfFile(file: string): AsyncGenerator<Uint8Array> {
  try {
    yield* createReadStream(file) as AsyncIterable<Uint8Array>
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code !== 'ENOENT') throw cause
    throw new Error(`${file} is gone: it was deleted while the pack was made. Make the pack again.`, { cause })
  }
}

/** Writes a ZIP file as a stream, entry after entry. Pictures and PDFs are stored as they are, everything else is deflated. */
export function openZipWriter(file: string, madeAt: Date): ZipWriter {
  const zip = new ZipFile()
  const written = pipeline(zip.outputStream, createWriteStream(file, { mode: 0o600 }))
  // It is awaited at the end. Until then an error would be without a listener and end the process.
  written.catch(() => {})
  // It says a second time what the reading of an entry says, and an error that nobody hears ends the process.
  zip.on('error', () => {})
  const files: PackedFile[] = []

  const put = async (path: string, chunks: Iterable<string | Uint8Array> | AsyncIterable<Uint8Array>): Promise<PackedFile> => {
    const sum = createHash('sha256')
    let bytes = 0
    const counted = async function* () {
      for await (const chunk of chunks) {
        const data = typeof chunk === 'string' ? Buffer.from(chunk) : chunk
        sum.update(data)
        bytes += data.byteLength
        yield data
      }
    }
    const source = Readable.from(counted(), { objectMode: false })
    zip.addReadStreamLazy(path, { mtime: madeAt, mode: 0o100644, compress: !/\.(webp|pdf|png)$/.test(path) }, (give) => give(null, source))
    try {
      await Promise.race([finished(source), written])
    } catch (reason) {
      // Nothing more comes, so the file is let go.
      ;(zip.outputStream as Readable).destroy()
      await written.catch(() => {})
      throw reason
    }
    return { path, bytes, sha256: sum.digest('hex') }
  }

  const add = async (path: string, body: Body) => {
    files.push(await put(path, typeof body === 'string' || body instanceof Uint8Array ? [body] : body))
  }

  return {
    files,
    add,
    async finish(manifest, sign) {
      const { sha256 } = await put(MANIFEST_PATH, [`${JSON.stringify({ ...manifest, files }, null, 1)}\n`])
      if (sign) await put(SIGNATURE_PATH, [sign(sha256)])
      zip.end({ comment: `${SEAL_HEAD}${'0'.repeat(64)}` } as Parameters<ZipFile['end']>[0])
      await written
      return seal(file)
    },
  }
}

/** Replaces the noughts in the comment by the digest of everything before them, and syncs the file. */
async function seal(file: string): Promise<{ bytes: number; sha256: string }> {
  const handle = await open(file, 'r+')
  try {
    const { size } = await handle.stat()
    const digest = await digestOf(file, size - 64)
    await handle.write(digest, size - 64)
    await handle.sync()
    return { bytes: size, sha256: await digestOf(file, size) }
  } finally {
    await handle.close()
  }
}

/** SHA-256 of the first `length` bytes. */
export async function digestOf(file: string, length: number): Promise<string> {
  const sum = createHash('sha256')
  if (length > 0) for await (const chunk of createReadStream(file, { end: length - 1 })) sum.update(chunk as Buffer)
  return sum.digest('hex')
}
