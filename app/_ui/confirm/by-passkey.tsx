'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '../forms/command-form'
import { SubmitButton } from '../forms/submit-button'
import { signOnDevice } from '../passkeys/ask-device'
import { usePasskeys } from '../passkeys/use-passkeys'

/** The proof by a passkey; where none can be used, why. */
export function ByPasskey({ publicUrl, onProved }: { publicUrl: string; onProved(): void }) {
  const passkeys = usePasskeys(publicUrl)
  const { run, pending, refusal } = useCommand(async () => {
    await api.confirm.byPasskey.mutate({ response: await signOnDevice(await api.confirm.toPasskey.mutate()) })
    return true
  })
  if (!passkeys) return null
  if (!passkeys.works) return <p className="quiet small">{passkeys.whyNot}</p>
  return (
    <CommandForm label="Confirm with a passkey" run={() => run(undefined)} pending={pending} refusal={refusal} onDone={onProved}>
      <SubmitButton waiting="Waiting for the device">Use a passkey</SubmitButton>
    </CommandForm>
  )
}
