import { createHash } from 'node:crypto'
import { createReadStream, createWriteStream, statSync } from 'node:fs'
import { mkdir, rename } from 'node:fs/promises'
import { type IncomingMessage, request as requestHttp } from 'node:http'
import { request as requestHttps } from 'node:https'
import { dirname } from 'node:path'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { AwsV4Signer } from 'aws4fetch'
import type { CopyMeans } from '../settings/copy-settings'
import type { CopyTo } from '../settings/copy-to.rules'
import type { Errand, Place } from './place'

const AT_ONCE = 12
const SILENT_MS = 30_000

interface Ask {
  method: 'GET' | 'PUT' | 'DELETE'
  /** Below the prefix; empty for the bucket itself. */
  path: string
  query?: Record<string, string>
  body?: { bytes: number; sha256: string; open(): Readable }
}

const NOTHING = createHash('sha256').update('').digest('hex')

/** A store that speaks the S3 protocol: path-style addresses, each request signed (SigV4) together with the hash of what it sends. */
export function openS3Place(to: Extract<CopyTo, { kind: 's3' }>, means: CopyMeans): Place {
  const { endpoint, region, accessKeyId, secretAccessKey } = means
  if (endpoint === undefined || accessKeyId === undefined || secretAccessKey === undefined)
    throw new Error('s3:// wants COPY_ENDPOINT, AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY beside it')
  const keyOf = (path: string) => (to.prefix === '' ? path : `${to.prefix}/${path}`)

  const ask = async ({ method, path, query = {}, body }: Ask): Promise<IncomingMessage> => {
    const url = new URL(`${endpoint}/${to.bucket}${path === '' ? '' : `/${keyOf(path).split('/').map(encodeURIComponent).join('/')}`}`)
    for (const [name, value] of Object.entries(query)) url.searchParams.set(name, value)
    const headers = { 'x-amz-content-sha256': body?.sha256 ?? NOTHING }
    const signed = await new AwsV4Signer({ method, url: url.href, headers, service: 's3', region, accessKeyId, secretAccessKey }).sign()
    const sent: Record<string, string> = Object.fromEntries(signed.headers)
    if (method === 'PUT') sent['content-length'] = String(body?.bytes ?? 0)
    return new Promise((resolve, reject) => {
      const asked = (signed.url.protocol === 'https:' ? requestHttps : requestHttp)(signed.url, { method, headers: sent }, resolve)
      asked.setTimeout(SILENT_MS, () => asked.destroy(new Error('the store does not answer')))
      asked.on('error', reject)
      if (body) pipeline(body.open(), asked).catch(reject)
      else asked.end()
    })
  }
  const textOf = async (answer: IncomingMessage): Promise<string> => (await bytesOf(answer)).toString('utf8')
  const need = async (answer: IncomingMessage): Promise<IncomingMessage> => {
    if (answer.statusCode && answer.statusCode < 300) return answer
    throw new Error(refusalOf(answer.statusCode ?? 0, await textOf(answer)))
  }
  const finish = async (answer: IncomingMessage) => void (await bytesOf(await need(answer)))

  const putFile = async ({ from, to: path }: Errand) => {
    const sum = createHash('sha256')
    for await (const part of createReadStream(from)) sum.update(part)
    const body = { bytes: statSync(from).size, sha256: sum.digest('hex'), open: () => createReadStream(from) }
    await finish(await ask({ method: 'PUT', path, body }))
  }
  const fetchFile = async ({ from, to: path }: Errand) => {
    const answer = await need(await ask({ method: 'GET', path: from }))
    await mkdir(dirname(path), { recursive: true, mode: 0o700 })
    await pipeline(answer, createWriteStream(`${path}.part`, { mode: 0o600 }))
    await rename(`${path}.part`, path)
  }

  return {
    async list(below) {
      const found: string[] = []
      const prefix = `${keyOf(below)}/`
      let more: string | undefined
      do {
        const query = { 'list-type': '2', prefix, ...(more === undefined ? {} : { 'continuation-token': more }) }
        const page = await textOf(await need(await ask({ method: 'GET', path: '', query })))
        for (const [, key = ''] of page.matchAll(/<Key>([^<]*)<\/Key>/g)) found.push(plain(key).slice(prefix.length))
        more = plain(/<NextContinuationToken>([^<]*)</.exec(page)?.[1] ?? '') || undefined
      } while (more !== undefined)
      return found
    },
    async read(path) {
      const answer = await ask({ method: 'GET', path })
      if (answer.statusCode !== 404) return bytesOf(await need(answer))
      const words = await textOf(answer)
      if (words.includes('NoSuchBucket')) throw new Error(refusalOf(404, words))
      return null
    },
    async write(path, bytes) {
      const sha256 = createHash('sha256').update(bytes).digest('hex')
      await finish(
        await ask({ method: 'PUT', path, body: { bytes: bytes.byteLength, sha256, open: () => Readable.from([Buffer.from(bytes)]) } }),
      )
    },
    put: (errands) => several(errands, putFile),
    fetch: (errands) => several(errands, fetchFile),
    remove: (paths) => several(paths, async (path) => finish(await ask({ method: 'DELETE', path }))),
    close: async () => {},
  }
}

/** Some at a time, in their order. What fails stops what has not begun. */
async function several<T>(all: readonly T[], work: (one: T) => Promise<void>): Promise<void> {
  const left = [...all]
  const hands = Array.from({ length: Math.min(AT_ONCE, left.length) }, async () => {
    for (let one = left.shift(); one !== undefined; one = left.shift())
      try {
        await work(one)
      } catch (reason) {
        left.length = 0
        throw reason
      }
  })
  await Promise.all(hands)
}

async function bytesOf(answer: IncomingMessage): Promise<Buffer> {
  const parts: Buffer[] = []
  for await (const part of answer) parts.push(part as Buffer)
  return Buffer.concat(parts)
}

const ENTITIES: Readonly<Record<string, string>> = { '&amp;': '&', '&lt;': '<', '&gt;': '>', '&quot;': '"', '&apos;': "'" }
const plain = (text: string): string => text.replaceAll(/&(amp|lt|gt|quot|apos);/g, (entity) => ENTITIES[entity] ?? entity)

function refusalOf(status: number, words: string): string {
  const code = /<Code>([^<]*)<\/Code>/.exec(words)?.[1]
  if (code === 'NoSuchBucket') return 'the store has no such bucket. Make it there first'
  if (status === 403)
    return `the store refuses the key (${code ?? 403}). Look at AWS_ACCESS_KEY_ID, AWS_SECRET_ACCESS_KEY, AWS_REGION and what that key may do`
  return `the store answered ${status}${code ? ` (${code})` : ''}`
}
