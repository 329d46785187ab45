import type { AnyProcedure } from '@trpc/server'
import { rootRouter } from '#doors/trpc/root'

export interface Named {
  path: string
  type: 'query' | 'mutation'
  /** The names of its input's fields; none when it takes none. */
  fields: string[]
}

/** Every procedure of the house, by path. */
export const everyProcedure = (): Named[] =>
  Object.entries(rootRouter._def.procedures as unknown as Record<string, AnyProcedure>)
    .map(([path, procedure]) => ({ path, type: procedure._def.type as 'query' | 'mutation', fields: fieldsOf(procedure) }))
    .sort((a, b) => a.path.localeCompare(b.path))

function fieldsOf(procedure: AnyProcedure): string[] {
  const { inputs } = procedure._def as unknown as { inputs: { shape?: Record<string, unknown> }[] }
  return Object.keys(inputs[0]?.shape ?? {})
}

/** Calls a procedure by its path on a caller. */
export async function call(caller: unknown, path: string, input: unknown): Promise<unknown> {
  let at = caller as Record<string, unknown>
  const parts = path.split('.')
  for (const part of parts.slice(0, -1)) at = at[part] as Record<string, unknown>
  const last = parts[parts.length - 1] ?? ''
  return (at[last] as (input: unknown) => Promise<unknown>)(input)
}
