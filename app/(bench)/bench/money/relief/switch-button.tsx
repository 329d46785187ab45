'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import type { ReliefCountry } from '#money/relief/relief.data'

export function SwitchButton({ country, name, isOn }: { country: ReliefCountry; name: string; isOn: boolean }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.relief.switch.mutate)
  return (
    <ConfirmButton
      kind="first"
      title={isOn ? `Stop showing it: ${name}?` : `Show it to buyers: ${name}?`}
      undoes={
        isOn ? (
          <p>Buyers no longer see an estimate. Nothing changes in the books.</p>
        ) : (
          <p>Ask the cause first whether the rule applies to it. It can be turned off again at any time.</p>
        )
      }
      confirm={isOn ? 'Turn it off' : 'Show it'}
      pending={pending}
      refusal={refusal}
      run={() => run({ country, isOn: !isOn })}
      onDone={() => router.refresh()}
    >
      {isOn ? 'Turn it off…' : 'Show it to buyers…'}
    </ConfirmButton>
  )
}
