import { promisify } from 'node:util'
import { brotliCompress, constants, gzip } from 'node:zlib'
import type { Packing } from './packing.rules'

/** Packs a body as a reader takes it, off the thread that asks. Brotli at 5: as small as gzip at its best, in half the time. */
export async function packed(body: Uint8Array, packing: Packing): Promise<Uint8Array> {
  if (packing === 'identity') return body
  if (packing === 'gzip') return promisify(gzip)(body)
  const params = { [constants.BROTLI_PARAM_QUALITY]: 5, [constants.BROTLI_PARAM_SIZE_HINT]: body.byteLength }
  return promisify(brotliCompress)(body, { params })
}
