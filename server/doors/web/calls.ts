import type { IncomingMessage, ServerResponse } from 'node:http'
import { getTRPCErrorFromUnknown, getTRPCErrorShape, TRPCError } from '@trpc/server'
import type { Context } from '#runtime/call/base'
import { rootRouter } from '../trpc/root'
import { type Bodies, BodyRefusal } from './bodies'
import { callLimit, isLargeCall } from './call-sizes'
import { metaOf, runProcedure } from './run-procedure'

/** How the addresses of all procedures begin. */
export const CALLS = '/api/trpc/'

const BODY_CODES = { 408: 'TIMEOUT', 413: 'PAYLOAD_TOO_LARGE', 429: 'TOO_MANY_REQUESTS' } as const

interface CallParts {
  bodies: Bodies
  /** Where it comes from, for limits. */
  address: string
  context(): Promise<Context>
}

/**
 * One procedure call a request, as tRPC's plain link asks for it: GET with `?input=` is a query, POST with a JSON
 * body a mutation. tRPC's own adapter builds a fetch request, its streams and three abort controllers for each call,
 * which takes longer than a bid; batches, streams and form data, which that is for, are not taken here anyway.
 */
export async function answerCall(request: IncomingMessage, response: ServerResponse, { bodies, address, context }: CallParts) {
  const [asked = '', query = ''] = (request.url ?? '').split('?', 2)
  const path = asked.slice(CALLS.length)
  const type = request.method === 'POST' ? 'mutation' : 'query'
  let ctx: Context | undefined
  let input: unknown
  try {
    const params = new URLSearchParams(query)
    if (params.has('batch')) throw new TRPCError({ code: 'BAD_REQUEST' })
    // Who asks is found out first only where it decides how much may be sent.
    if (type === 'mutation' && isLargeCall(path)) ctx = await context()
    input = parsed(
      type === 'mutation'
        ? (await bodies.read(request, address, callLimit(path, ctx !== undefined && mayCall(path, ctx)))).toString('utf8')
        : (params.get('input') ?? ''),
    )
    ctx ??= await context()
    const data = await runProcedure({ path, type, ctx, input })
    send(request, response, 200, { result: { data } })
  } catch (reason) {
    const error =
      reason instanceof BodyRefusal ? new TRPCError({ code: BODY_CODES[reason.status], cause: reason }) : getTRPCErrorFromUnknown(reason)
    const shape = getTRPCErrorShape({ config: rootRouter._def._config, error, type, path, input, ctx })
    send(request, response, shape.data.httpStatus, { error: shape })
  }
}

/** Whether a procedure is for whoever asks, as far as their role decides it. */
function mayCall(path: string, { actor }: Context): boolean {
  const roles = metaOf(path)?.roles
  return actor !== null && (roles === undefined || roles.includes(actor.role))
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
