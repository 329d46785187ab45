'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { signOnDevice } from '#app/_ui/passkeys/ask-device.ts'
import { usePasskeys } from '#app/_ui/passkeys/use-passkeys.ts'
import { HOME } from './home'

/** For the staff, beside the code: the device says who it is, so there is no address to write. */
export function ByPasskey({ publicUrl, onward }: { publicUrl: string; onward?: string }) {
  const passkeys = usePasskeys(publicUrl)
  const { run, pending, refusal } = useCommand(async () =>
    api.passkeys.signIn.mutate({ response: await signOnDevice(await api.passkeys.toSignIn.mutate()) }),
  )
  if (!passkeys) return null
  return (
    <section className="stack close" aria-labelledby="by-passkey">
      <h2 id="by-passkey">With a passkey</h2>
      {passkeys.works ? (
        <CommandForm
          label="Sign in with a passkey"
          run={() => run(undefined)}
          pending={pending}
          refusal={refusal}
          // A whole page load: every part of the next page is rendered for who has just signed in.
          onDone={({ role }) => window.location.assign(onward ?? HOME[role])}
        >
          <p>For staff with a passkey on this device or one nearby. Set one up under “Sessions and passkeys” after signing in.</p>
          <SubmitButton kind="line" waiting="Waiting for the device">
            Use a passkey
          </SubmitButton>
        </CommandForm>
      ) : (
        <p className="quiet">{passkeys.whyNot}</p>
      )}
    </section>
  )
}
