'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { CheckView } from '#bench/units/view.contract'
import type { BringupView } from '#floor/bringup/bringup.contract'

interface ReleaseFormProps {
  view: BringupView
  check: CheckView
  seen: string
  name: string
  onReleased(view: BringupView): void
}

/** A hold point is let go by somebody, who writes the name. */
export function ReleaseForm({ view, check, seen, name, onReleased }: ReleaseFormProps) {
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.bringup.release.mutate)
  return (
    <CommandForm
      label={`Release ${check.key}`}
      pending={pending}
      refusal={refusal}
      run={(form) => run({ key, tag: view.tag, seen, check: check.key, name: form.text('name') })}
      onDone={({ view: after }) => {
        renew()
        onReleased(after)
      }}
    >
      <p>
        Read <span className="num">{check.reading?.entry}</span>, limits {check.limits}. Nothing below {check.key} is taken until somebody
        releases it.
      </p>
      {check.fourEyes && (
        <p>
          <b>Four eyes:</b> {check.reading?.by || 'whoever took the reading'} took the reading, so somebody else has to release it.
        </p>
      )}
      <TextField
        name="name"
        label="Released by"
        hint={`Anybody can read it: the certificate names who released ${check.key}${check.fourEyes ? '' : ', and whether it was who took the reading'}.`}
        defaultValue={name}
        width="short"
        autoComplete="name"
      />
      <SubmitButton>Release it</SubmitButton>
    </CommandForm>
  )
}
