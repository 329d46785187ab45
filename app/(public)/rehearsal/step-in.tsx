'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'

const ROLES = [
  { role: 'host', home: '/air/host', words: 'Be the host' },
  { role: 'maker', home: '/bench/rehearsal', words: 'Make things go wrong' },
] as const

/** The key stands behind the # of the address, so that no log sees it. */
export function StepIn() {
  const { run, pending, refusal } = useCommand(api.rehearsal.enter.mutate)
  const enter = async ({ role, home }: (typeof ROLES)[number]) => {
    const entered = await run({ key: window.location.hash.slice(1), role })
    if (entered) window.location.assign(home)
  }
  return (
    <>
      {refusal && <p role="alert">{refusal.words}</p>}
      <div className="row" aria-busy={pending}>
        {ROLES.map((one) => (
          <button key={one.role} type="button" className="button" onClick={() => void enter(one)}>
            {one.words}
          </button>
        ))}
      </div>
    </>
  )
}
