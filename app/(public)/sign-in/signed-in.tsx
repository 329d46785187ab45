'use client'

import Link from 'next/link'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import type { Role } from '#kernel/role'

export function SignedIn({ name, role, onward }: { name: string; role: Role; onward?: string }) {
  const { run, pending, refusal } = useCommand(() => api.people.signOut.mutate())
  return (
    <CommandForm
      run={async () => (await run(undefined)) ?? null}
      pending={pending}
      refusal={refusal}
      onDone={() => window.location.assign('/')}
    >
      <p>
        You are signed in as <b>{name}</b>, {role}.
      </p>
      <p>
        <Link href={onward ?? (role === 'bidder' ? '/me' : '/bench')}>Continue</Link>
      </p>
      <SubmitButton kind="line">Sign out</SubmitButton>
    </CommandForm>
  )
}
