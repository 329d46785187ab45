'use client'

import { useRouter } from 'next/navigation'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'

/** One form of the books: its key, its command, and what follows when it was taken. */
export function useBookForm<Input, Output>(mutate: (input: Input) => Promise<Output>) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const command = useCommand(mutate)
  const onDone = () => {
    renew()
    router.refresh()
  }
  return { key, onDone, ...command }
}
