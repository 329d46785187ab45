'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { ROLES, type Role } from '#kernel/role'

export function RoleForm() {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.people.setRole.mutate)
  return (
    <CommandForm
      label="Role of a person"
      run={(form) => run({ email: form.text('email'), role: form.text('role') as Role })}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      emptyWhenDone
    >
      <TextField
        name="email"
        label="Email address"
        type="email"
        inputMode="email"
        autoComplete="off"
        hint="They sign in with a code sent to it."
      />
      <SelectField name="role" label="Role" defaultValue="volunteer" options={ROLES.map((role) => ({ value: role, label: role }))} />
      <SubmitButton kind="line">Give the role</SubmitButton>
    </CommandForm>
  )
}
