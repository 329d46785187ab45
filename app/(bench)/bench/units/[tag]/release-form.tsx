'use client'

import type { BringupView } from '../../../../../server/bringup/bringup.contract'
import type { CheckView } from '../../../../../server/units/view.contract'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { useFormKey } from '../../../../_trpc/use-form-key'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { TextField } from '../../../../_ui/forms/text-fields'

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
        lets the work go on.
      </p>
      <TextField name="name" label="Released by" defaultValue={name} width="short" autoComplete="name" />
      <SubmitButton>Let the work go on</SubmitButton>
    </CommandForm>
  )
}
