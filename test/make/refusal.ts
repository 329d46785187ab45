import { TRPCError } from '@trpc/server'
import { Refusal } from '#kernel/refusal'

/** What a call is refused with, at which field; fails when it is taken. */
export async function refusedAt(call: Promise<unknown>): Promise<Record<string, string>> {
  try {
    await call
  } catch (reason) {
    if (reason instanceof TRPCError) {
      const { cause } = reason
      if (cause instanceof Refusal) return cause.fields
      const issues = (cause as { issues?: { path: PropertyKey[]; message: string }[] } | undefined)?.issues
      if (issues) return Object.fromEntries(issues.map(({ path, message }) => [path.join('.'), message]))
    }
    throw reason
  }
  throw new Error('it was taken')
}
