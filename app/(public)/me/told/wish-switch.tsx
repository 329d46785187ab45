'use client'

import { useRouter } from 'next/navigation'
import { type ReactNode, useId } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'

/** What messages are wanted of, kept with each tap. */
export function WishSwitch({ lot, isOn, children }: { lot: number | null; isOn: boolean; children: ReactNode }) {
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
        {refusal ? refusal.words : isOn ? 'Messages on' : 'Messages off'}
      </span>
    </div>
  )
}
