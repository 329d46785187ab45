'use client'

import { useRouter } from 'next/navigation'
import { type ReactNode, useId } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'

interface WishSwitchProps {
  lot: number | null
  isOn: boolean
  /** Some device of the reader's gets messages. */
  isReached: boolean
  children: ReactNode
}

/** What messages are wanted of, kept with each tap. */
export function WishSwitch({ lot, isOn, isReached, children }: WishSwitchProps) {
  const router = useRouter()
  const id = useId()
  const { run, pending, refusal } = useCommand(async (wanted: boolean) => {
    await api.told.want.mutate({ lot, wanted })
    router.refresh()
  })
  return (
    <div className="row">
      <button
        type="button"
        className="button-line"
        aria-pressed={isOn}
        aria-busy={pending}
        aria-describedby={id}
        onClick={() => run(!isOn)}
      >
        {children}
      </button>
      <span id={id} role="status" className="small quiet">
        {refusal ? refusal.words : sayWish(isOn, isReached)}
      </span>
    </div>
  )
}

/** Messages are on only where some device gets them. */
export function sayWish(isOn: boolean, isReached: boolean): string {
  if (!isOn) return 'Messages off'
  return isReached ? 'Messages on' : 'Chosen, but no device of yours gets messages yet: you are told by email'
}
