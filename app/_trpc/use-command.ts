'use client'

import { TRPCClientError } from '@trpc/client'
import { useCallback, useRef, useState } from 'react'
import type { FieldWords } from '#kernel/refusal'

export interface Refused {
  words: string
  fields: FieldWords
  /** Why, for a page that has a way on; null where the house said no such thing. */
  code: string | null
  /** True when the house was not reached at all: the same command may be sent again with the same key. */
  unreached: boolean
}

/** What could not be done on this side, before or after the house was asked, in words for whoever sits here. */
export class Unable extends Error {}

/** What a person is told of an error that a call threw. */
export function refusedBy(reason: unknown): Refused {
  if (reason instanceof Unable) return { words: reason.message, fields: {}, code: null, unreached: false }
  if (reason instanceof TRPCClientError && reason.data) {
    const { words, fields, refusal } = reason.data as { words: string; fields: FieldWords; refusal?: string }
    return { words, fields, code: refusal ?? null, unreached: false }
  }
  return { words: 'The house could not be reached. What you wrote is still here; try again.', fields: {}, code: null, unreached: true }
}

/** Runs one command at a time: a second tap while it runs does nothing. Answers undefined when it was refused. */
export function useCommand<Input, Output>(command: (input: Input) => Promise<Output>) {
  const [pending, setPending] = useState(false)
  const [refusal, setRefusal] = useState<Refused | null>(null)
  const busy = useRef(false)
  const latest = useRef(command)
  latest.current = command

  const run = useCallback(async (input: Input): Promise<Output | undefined> => {
    if (busy.current) return undefined
    busy.current = true
    setPending(true)
    setRefusal(null)
    try {
      // A command that has nothing to say was taken all the same: undefined means refused.
      return (await latest.current(input)) ?? (null as Output)
    } catch (reason) {
      setRefusal(refusedBy(reason))
      return undefined
    } finally {
      busy.current = false
      setPending(false)
    }
  }, [])

  return { run, pending, refusal, forget: () => setRefusal(null) }
}
