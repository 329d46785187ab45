'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'

export function RaiseCeiling({ paddle }: { paddle: number }) {
  const router = useRouter()
  const { run, refusal } = useCommand(api.people.raiseCeiling.mutate)
  return (
    <>
      <button type="button" className="button-line" onClick={async () => (await run({ paddle })) && router.refresh()}>
        Raise to four times<span className="visually-hidden">, paddle {paddle}</span>
      </button>
      {refusal && <p role="alert">{refusal.words}</p>}
    </>
  )
}
