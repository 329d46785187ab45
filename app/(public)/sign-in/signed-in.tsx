'use client'

import Link from 'next/link'
import type { Role } from '../../../server/people/people.contract'
import { api } from '../../_trpc/client'
import { useCommand } from '../../_trpc/use-command'
import { CommandForm } from '../../_ui/forms/command-form'
import { SubmitButton } from '../../_ui/forms/submit-button'

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
        <Link href={onward ?? (role === 'bidder' ? '/me' : '/bench')}>Go on</Link>
      </p>
      <SubmitButton kind="line">Sign out</SubmitButton>
    </CommandForm>
  )
}
