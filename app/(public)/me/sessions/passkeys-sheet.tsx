'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { makeKeyOnDevice } from '#app/_ui/passkeys/ask-device.ts'
import { usePasskeys } from '#app/_ui/passkeys/use-passkeys.ts'
import { When } from '#app/_ui/when.tsx'
import type { OwnPasskey } from '#people/sign-in/passkeys.contract'

interface PasskeysSheetProps {
  passkeys: readonly OwnPasskey[]
  mayAdd: boolean
  publicUrl: string
  zone: string
}

/** The keys that one signs in and confirms with, beside a code by email: added, named and removed. */
export function PasskeysSheet({ passkeys, mayAdd, publicUrl, zone }: PasskeysSheetProps) {
  const found = usePasskeys(publicUrl)
  return (
    <section className="sheet stack" aria-labelledby="passkeys">
      <h2 id="passkeys">Passkeys</h2>
      <p>
        A passkey stays in your phone, your computer or a security key, which asks for your finger, your face or a PIN. It signs you in and
        confirms sensitive actions, only at this house: nobody can talk you out of it over the telephone or fish it out of an email. A code
        by email still works as well.
      </p>
      {found?.whyNot && (
        <Notice tone="doubt" title="Passkeys do not work on this page">
          <p>{found.whyNot}</p>
        </Notice>
      )}
      {passkeys.length === 0 ? (
        <EmptyState title="You have no passkey here yet." />
      ) : (
        <ul className="plain-list stack">
          {passkeys.map((one) => (
            <li key={one.id}>
              <OnePasskey passkey={one} zone={zone} />
            </li>
          ))}
        </ul>
      )}
      {mayAdd && found?.works && <AddPasskey />}
    </section>
  )
}

function OnePasskey({ passkey: { id, name, madeAt, isBackedUp }, zone }: { passkey: OwnPasskey; zone: string }) {
  const router = useRouter()
  const rename = useCommand(api.passkeys.rename.mutate)
  const remove = useCommand(api.passkeys.remove.mutate)
  return (
    <div className="stack close">
      <div className="row apart">
        <h3>{name}</h3>
        <ConfirmButton
          run={async () => ((await remove.run({ id })) === undefined ? undefined : true)}
          pending={remove.pending}
          refusal={remove.refusal}
          onDone={() => router.refresh()}
          title={`Remove ${name}?`}
          undoes={<p>It no longer works here. Your device goes on listing it until you delete it there too.</p>}
          confirm="Remove it"
          keep="Keep it"
        >
          Remove…
        </ConfirmButton>
      </div>
      <p className="quiet">
        Made <When at={madeAt} zone={zone} brief />.{' '}
        {isBackedUp
          ? 'Its device also backs it up elsewhere.'
          : 'It is on one device only. Add another, or use a code by email, in case you lose it.'}
      </p>
      <CommandForm
        label={`Rename ${name}`}
        run={async (form) => ((await rename.run({ id, name: form.text('name') })) === undefined ? undefined : true)}
        pending={rename.pending}
        refusal={rename.refusal}
        onDone={() => router.refresh()}
      >
        <TextField name="name" label="What you call it" defaultValue={name} width="short" maxLength={80} autoComplete="off" />
        <div className="row">
          <SubmitButton kind="line">Rename</SubmitButton>
        </div>
      </CommandForm>
    </div>
  )
}

function AddPasskey() {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(async (name: string) => {
    const response = await makeKeyOnDevice(await api.passkeys.toRegister.mutate({ name }))
    await api.passkeys.register.mutate({ name, response })
    return true
  })
  return (
    <CommandForm
      label="Add a passkey"
      run={(form) => run(form.text('name'))}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      emptyWhenDone
    >
      <h3>Add one</h3>
      <TextField
        name="name"
        label="A name for it"
        hint="So that you recognise it in this list: my phone, the key on my key ring."
        width="short"
        maxLength={80}
        autoComplete="off"
      />
      <div className="row">
        <SubmitButton waiting="Waiting for the device">Add a passkey</SubmitButton>
      </div>
    </CommandForm>
  )
}
