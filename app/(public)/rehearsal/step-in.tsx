'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'

const WAYS = [
  { home: '/air/host', words: 'Run the day from the host’s page' },
  { home: '/bench/rehearsal', words: 'Make things go wrong' },
] as const

/** The pass stands behind the # of the address, so that no log sees it. It says who one is: here one has the role that one has in the house. */
export function StepIn() {
  const { run, pending, refusal } = useCommand(api.rehearsal.enter.mutate)
  const enter = async (home: string) => {
    if (await run({ pass: window.location.hash.slice(1) })) window.location.assign(home)
  }
  return (
    <>
      {refusal && <p role="alert">{refusal.words}</p>}
      <div className="row" aria-busy={pending}>
        {WAYS.map(({ home, words }) => (
          <button key={home} type="button" className="button" onClick={() => void enter(home)}>
            {words}
          </button>
        ))}
      </div>
    </>
  )
}
