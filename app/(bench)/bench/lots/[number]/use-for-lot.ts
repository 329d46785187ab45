'use client'

import { useRouter } from 'next/navigation'
import { useCommand } from '#app/_trpc/use-command.ts'

/** A command to the lot, and what its form needs: the page is asked for again once it is done. */
export function useForLot<In, Out>(call: (input: In) => Promise<Out>) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(call)
  return { run, form: { pending, refusal, onDone: () => router.refresh() } }
}
