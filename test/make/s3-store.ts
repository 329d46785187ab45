import { createHash, createHmac } from 'node:crypto'
import { createServer, type IncomingMessage } from 'node:http'
import type { AddressInfo } from 'node:net'

/** A store of our own that speaks as much of S3 as a copy needs, and believes no request whose signature (SigV4) or digest is wrong. */
export async function openStore({ bucket = 'copies', accessKeyId = 'the-key', secretAccessKey = 'the-secret', pageSize = 2 } = {}) {
  const objects = new Map<string, Buffer>()
  const server = createServer(async (request, response) => {
    const parts: Buffer[] = []
    for await (const part of request) parts.push(part as Buffer)
    const body = Buffer.concat(parts)
    const refuse = (status: number, code: string) => response.writeHead(status).end(`<Error><Code>${code}</Code></Error>`)
    const wrong = whatIsWrong(request, body, { accessKeyId, secretAccessKey })
    if (wrong) return refuse(403, wrong)
    const url = new URL(request.url ?? '/', 'http://store.example')
    const [, named, ...rest] = url.pathname.split('/')
    const key = rest.map(decodeURIComponent).join('/')
    if (named !== bucket) return refuse(404, 'NoSuchBucket')
    if (request.method === 'PUT') {
      objects.set(key, body)
      return response.end()
    }
    if (request.method === 'DELETE') {
      objects.delete(key)
      return response.writeHead(204).end()
    }
    if (key !== '') {
      const found = objects.get(key)
      return found ? response.end(found) : refuse(404, 'NoSuchKey')
    }
    const prefix = url.searchParams.get('prefix') ?? ''
    const all = [...objects.keys()].filter((one) => one.startsWith(prefix)).sort()
    const from = Number(url.searchParams.get('continuation-token') ?? 0)
    const page = all.slice(from, from + pageSize).map((one) => `<Contents><Key>${one.replaceAll('&', '&amp;')}</Key></Contents>`)
    const more = from + pageSize < all.length ? `<NextContinuationToken>${from + pageSize}</NextContinuationToken>` : ''
    return response.end(`<ListBucketResult>${page.join('')}${more}</ListBucketResult>`)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  return {
    endpoint: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    objects,
    close: () => new Promise((resolve) => server.close(resolve)),
  }
}

const hmac = (key: string | Buffer, text: string): Buffer => createHmac('sha256', key).update(text).digest()
const sha256 = (bytes: string | Buffer): string => createHash('sha256').update(bytes).digest('hex')

function whatIsWrong(request: IncomingMessage, body: Buffer, keys: { accessKeyId: string; secretAccessKey: string }): string | null {
  const { headers } = request
  const [, id, day, region, service, names = '', signature] =
    /^AWS4-HMAC-SHA256 Credential=([^/]+)\/(\d{8})\/([^/]+)\/([^/]+)\/aws4_request, ?SignedHeaders=([^,]+), ?Signature=([\da-f]+)$/.exec(
      headers.authorization ?? '',
    ) ?? []
  if (id !== keys.accessKeyId) return 'InvalidAccessKeyId'
  if (headers['x-amz-content-sha256'] !== sha256(body)) return 'XAmzContentSHA256Mismatch'
  const url = new URL(request.url ?? '/', 'http://store.example')
  const escaped = (text: string) =>
    encodeURIComponent(text).replaceAll(/[!'()*]/g, (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`)
  const query = [...url.searchParams].map(([name, value]) => `${escaped(name)}=${escaped(value)}`).sort()
  const signed = names.split(';').map((name) => `${name}:${String(headers[name]).trim()}\n`)
  const asked = [request.method, url.pathname, query.join('&'), signed.join(''), names, headers['x-amz-content-sha256']].join('\n')
  const scope = `${day}/${region}/${service}/aws4_request`
  const toSign = ['AWS4-HMAC-SHA256', headers['x-amz-date'], scope, sha256(asked)].join('\n')
  const key = [day, region, service, 'aws4_request'].reduce<string | Buffer>(
    (one, part) => hmac(one, part ?? ''),
    `AWS4${keys.secretAccessKey}`,
  )
  return hmac(key, toSign).toString('hex') === signature ? null : 'SignatureDoesNotMatch'
}
