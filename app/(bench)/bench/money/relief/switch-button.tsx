'use client'

import { useRouter } from 'next/navigation'
import type { ReliefCountry } from '../../../../../server/relief/relief.data'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { ConfirmButton } from '../../../../_ui/forms/confirm-button'

export function SwitchButton({ country, name, isOn }: { country: ReliefCountry; name: string; isOn: boolean }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.relief.switch.mutate)
  return (
    <ConfirmButton
      kind="first"
      title={isOn ? `Show it no longer: ${name}?` : `Show it to buyers: ${name}?`}
      undoes={
        isOn ? (
          <p>Buyers see no estimate any more. Nothing is written in the books.</p>
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
