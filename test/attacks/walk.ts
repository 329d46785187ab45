import type { AnyProcedure } from '@trpc/server'
import type { $ZodType } from 'zod/v4/core'
import { rootRouter } from '#doors/trpc/root'

export interface Named {
  path: string
  type: 'query' | 'mutation'
  /** The shape of its input; null when it takes none. */
  shape: $ZodType | null
}

/** Every procedure of the house, by path. */
export const everyProcedure = (): Named[] =>
  Object.entries(rootRouter._def.procedures as unknown as Record<string, AnyProcedure>)
    .map(([path, procedure]) => ({ path, type: procedure._def.type as 'query' | 'mutation', shape: shapeOf(procedure) }))
    .sort((a, b) => a.path.localeCompare(b.path))

function shapeOf(procedure: AnyProcedure): $ZodType | null {
  const { inputs } = procedure._def as unknown as { inputs: $ZodType[] }
  return inputs[0] ?? null
}

/** Calls a procedure by its path on a caller. */
export async function call(caller: unknown, path: string, input: unknown): Promise<unknown> {
  let at = caller as Record<string, unknown>
  const parts = path.split('.')
  for (const part of parts.slice(0, -1)) at = at[part] as Record<string, unknown>
  const last = parts[parts.length - 1] ?? ''
  return (at[last] as (input: unknown) => Promise<unknown>)(input)
}
