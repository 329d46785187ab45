import 'server-only'
import { notFound } from 'next/navigation'
import { refusalIn } from './refusal.rules'

/** For `.catch`: what is not there gets the page that says so; every other refusal goes on. */
export function orNotFound(reason: unknown): never {
  if (refusalIn(reason)?.code === 'not-found') notFound()
  throw reason
}

export interface Refused {
  /** Why, in the words of the refusal. */
  refused: string
}

/** For `.catch`: what is not there gets the page that says so, and what is refused otherwise is handed to the page to be shown. */
export function orRefused(reason: unknown): Refused {
  const refusal = refusalIn(reason)
  return refusal === null || refusal.code === 'not-found' ? orNotFound(reason) : { refused: refusal.words }
}
