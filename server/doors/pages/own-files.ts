import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { extname, join } from 'node:path'
import { promisify } from 'node:util'
import { brotliCompress, constants, gzip } from 'node:zlib'
import { hasIt, packingFor } from './packing.rules'

const TYPES: Record<string, string> = {
  '.js': 'application/javascript; charset=UTF-8',
  '.mjs': 'application/javascript; charset=UTF-8',
  '.css': 'text/css; charset=UTF-8',
  '.json': 'application/json; charset=UTF-8',
  '.md': 'text/markdown; charset=UTF-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
}
const PACKED = /^(text|application\/(javascript|json))|svg/

const pack = {
  br: (bytes: Buffer) => promisify(brotliCompress)(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: 5 } }),
  gzip: (bytes: Buffer) => promisify(gzip)(bytes),
}

interface OwnFile {
  path: string
  type: string
  isImmutable: boolean
  bytes: Buffer | null
  etag: string
  packed: Map<string, Promise<Buffer>>
}

/** What `build.mjs` packed as tightly as it can be, beside what it was packed from. */
const PACKED_BY_BUILD = '.br'

/** Some files are workers, which fetch under the policy that their script came with. */
type ForPage = (request: IncomingMessage, response: ServerResponse) => void

/** The files of this build, by address, as they were at the start: nothing else of the disk can be asked for. */
export function openOwnFiles({ nextDir, publicDir, forPage }: { nextDir: string; publicDir: string; forPage: ForPage }) {
  const files = new Map<string, OwnFile>()
  const add = (folder: string, address: string, isImmutable: boolean) => {
    if (!existsSync(folder)) return
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      const path = join(folder, entry.name)
      const type = TYPES[extname(entry.name)]
      if (entry.isDirectory()) add(path, `${address}/${entry.name}`, isImmutable)
      else if (type) files.set(`${address}/${entry.name}`, { path, type, isImmutable, bytes: null, etag: '', packed: new Map() })
    }
  }
  add(join(nextDir, 'static'), '/_next/static', true)
  add(publicDir, '', false)

  return {
    /** Gives a file if it is one of these. */
    async give(pathname: string, request: IncomingMessage, response: ServerResponse): Promise<boolean> {
      const file = files.get(pathname)
      if (!file) return false
      const { path, type, isImmutable, packed } = file
      file.bytes ??= readFileSync(path)
      file.etag ||= `"${createHash('sha256').update(file.bytes).digest('base64url').slice(0, 27)}"`
      const { bytes } = file
      const packing = PACKED.test(type) ? packingFor(request.headers['accept-encoding']) : 'identity'
      if (packing !== 'identity' && !packed.has(packing))
        packed.set(
          packing,
          packing === 'br' && existsSync(path + PACKED_BY_BUILD) ? readFile(path + PACKED_BY_BUILD) : pack[packing](bytes),
        )
      const body = (await packed.get(packing)) ?? bytes
      const etag = packing === 'identity' ? file.etag : file.etag.replace(/"$/, `-${packing}"`)
      forPage(request, response)
      const isHad = hasIt(request.headers['if-none-match'], etag)
      response.writeHead(isHad ? 304 : 200, {
        etag,
        'cache-control': isImmutable ? 'public, max-age=31536000, immutable' : 'public, max-age=0',
        ...(PACKED.test(type) && { vary: 'Accept-Encoding' }),
        ...(!isHad && { 'content-type': type, 'content-length': body.byteLength }),
        ...(!isHad && packing !== 'identity' && { 'content-encoding': packing }),
      })
      response.end(isHad || request.method === 'HEAD' ? undefined : body)
      return true
    },
  }
}
