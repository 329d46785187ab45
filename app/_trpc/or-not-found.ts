import 'server-only'
import { notFound } from 'next/navigation'

/** For `.catch`: what is not there gets the page that says so; every other refusal goes on. */
export function orNotFound(reason: unknown): never {
  if (typeof reason === 'object' && reason !== null && 'code' in reason && reason.code === 'NOT_FOUND') notFound()
  throw reason
}
