'use client'

import { useRouter } from 'next/navigation'
import { ROLES, type Role } from '../../../../server/people/people.contract'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { CommandForm } from '../../../_ui/forms/command-form'
import { SubmitButton } from '../../../_ui/forms/submit-button'
import { SelectField, TextField } from '../../../_ui/forms/text-fields'

export function RoleForm() {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.people.setRole.mutate)
  return (
    <CommandForm
      run={(form) => run({ email: form.text('email'), role: form.text('role') as Role })}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      emptyWhenDone
    >
      <TextField
        name="email"
        label="Mail address"
        type="email"
        inputMode="email"
        autoComplete="off"
        hint="They sign in with a code sent there."
      />
      <SelectField name="role" label="Role" defaultValue="volunteer" options={ROLES.map((role) => ({ value: role, label: role }))} />
      <SubmitButton kind="line">Give the role</SubmitButton>
    </CommandForm>
  )
}
