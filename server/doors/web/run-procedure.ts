import { getTRPCErrorFromUnknown, TRPCError } from '@trpc/server'
import type { CallMeta, Context } from '#runtime/call/base'
import { rootRouter } from '../trpc/root'

interface Asked {
  path: string
  type: 'query' | 'mutation'
  ctx: Context
  input: unknown
}

/** What a step of a procedure comes to: its answer, or why there is none. */
type Result = { ok: true; data: unknown } | { ok: false; error: TRPCError }

/** What a step hands to the next one where it is not what it was given itself. */
interface HandedOn {
  ctx?: Context
  input?: unknown
}

/** A step of a procedure as the library builds it: a policy, the check of its input, or at last what it does. */
type Step = (
  given: Asked & {
    meta: CallMeta | undefined
    getRawInput(): Promise<unknown>
    signal: undefined
    batchIndex: number
    next(handedOn?: HandedOn): Promise<Result>
  },
) => Promise<Result>

interface Procedure {
  _def: { type: string; meta?: CallMeta; middlewares: readonly Step[] }
}

// Of Object's own names none is a procedure.
const procedures = new Map(Object.entries(rootRouter._def.procedures as unknown as Record<string, Procedure>))

export const metaOf = (path: string): CallMeta | undefined => procedures.get(path)?._def.meta

/**
 * Runs the steps of a procedure one after another, as `callTRPCProcedure` does: the same policies in the same order, each failure handed
 * back to the steps before it. The library copies all that a step is given twice on the way into each, property by property,
 * which takes as long as the rule of a bid.
 */
export async function runProcedure({ path, type, ctx, input: raw }: Asked): Promise<unknown> {
  const procedure = procedures.get(path)
  if (procedure?._def.type !== type) throw new TRPCError({ code: 'NOT_FOUND', message: `No "${type}"-procedure on path "${path}"` })
  const { meta, middlewares } = procedure._def
  const getRawInput = async () => raw
  const from = async (index: number, ctx: Context, input: unknown): Promise<Result> => {
    const step = middlewares[index]
    if (!step) throw new Error(`${path} has no step that answers`)
    const next = (handedOn?: HandedOn) =>
      from(
        index + 1,
        handedOn?.ctx ? { ...ctx, ...handedOn.ctx } : ctx,
        handedOn !== undefined && 'input' in handedOn ? handedOn.input : input,
      )
    try {
      return await step({ path, type, ctx, input, meta, getRawInput, signal: undefined, batchIndex: 0, next })
    } catch (cause) {
      return { ok: false, error: getTRPCErrorFromUnknown(cause) }
    }
  }
  const result = await from(0, ctx, undefined)
  if (!result.ok) throw result.error
  return result.data
}
