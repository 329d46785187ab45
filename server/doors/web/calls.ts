import type { IncomingMessage, ServerResponse } from 'node:http'
import { callTRPCProcedure, getTRPCErrorFromUnknown, getTRPCErrorShape, TRPCError } from '@trpc/server'
import type { Context } from '#runtime/call/base'
import { rootRouter } from '../trpc/root'

const MOST_CALL_BYTES = 2 * 1024 * 1024
/** How the addresses of all procedures begin. */
export const CALLS = '/api/trpc/'

/**
 * One procedure call a request, as tRPC's plain link asks for it: GET with `?input=` is a query, POST with a JSON
 * body a mutation. tRPC's own adapter builds a fetch request, its streams and three abort controllers for each call,
 * which takes longer than a bid; batches, streams and form data, which that is for, are not taken here anyway.
 */
export async function answerCall(request: IncomingMessage, response: ServerResponse, context: () => Promise<Context>) {
  const [address = '', query = ''] = (request.url ?? '').split('?', 2)
  const path = address.slice(CALLS.length)
  const type = request.method === 'POST' ? 'mutation' : 'query'
  let ctx: Context | undefined
  let input: unknown
  try {
    const asked = new URLSearchParams(query)
    if (asked.has('batch')) throw new TRPCError({ code: 'BAD_REQUEST' })
    input = parsed(type === 'mutation' ? await bodyOf(request) : (asked.get('input') ?? ''))
    ctx = await context()
    const data = await callTRPCProcedure({
      router: rootRouter,
      path,
      type,
      ctx,
      getRawInput: async () => input,
      signal: undefined,
      batchIndex: 0,
    })
    send(request, response, 200, { result: { data } })
  } catch (reason) {
    const error = getTRPCErrorFromUnknown(reason)
    const shape = getTRPCErrorShape({ config: rootRouter._def._config, error, type, path, input, ctx })
    send(request, response, shape.data.httpStatus, { error: shape })
  }
}

function send(request: IncomingMessage, response: ServerResponse, status: number, body: object): void {
  const text = JSON.stringify(body)
  response.writeHead(status, {
    'content-type': 'application/json',
    'cache-control': 'no-store',
    'content-length': Buffer.byteLength(text),
  })
  response.end(request.method === 'HEAD' ? undefined : text)
}

function parsed(text: string): unknown {
  if (text === '') return undefined
  try {
    return JSON.parse(text)
  } catch (cause) {
    throw new TRPCError({ code: 'PARSE_ERROR', cause })
  }
}

function bodyOf(request: IncomingMessage): Promise<string> {
  return new Promise((resolve, reject) => {
    const parts: Buffer[] = []
    let size = 0
    request.on('data', (part: Buffer) => {
      size += part.length
      if (size <= MOST_CALL_BYTES) parts.push(part)
      else reject(new TRPCError({ code: 'PAYLOAD_TOO_LARGE' }))
    })
    request.on('end', () => resolve(Buffer.concat(parts).toString('utf8')))
    request.on('error', reject)
  })
}
