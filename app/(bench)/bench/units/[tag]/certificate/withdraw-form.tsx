'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'

/** Ends a certificate by hand. It cannot be undone, only followed by a new one: the form says so. */
export function WithdrawForm({ serial, tag }: { serial: string; tag: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.bringup.withdrawCertificate.mutate)
  return (
    <details>
      <summary>Withdraw {serial}</summary>
      <CommandForm
        label="Withdraw the certificate"
        run={(form) => run({ serial, reason: form.text('reason'), checks: form.text('checks') })}
        pending={pending}
        refusal={refusal}
        onDone={() => router.refresh()}
        emptyWhenDone
      >
        <p>
          Its page will say withdrawn, with your reason, for good. An open lot of {tag} goes on hold; one that is not open yet cannot open
          until a new certificate is issued. The new one will name {serial} and your reason, and be based on new readings.
        </p>
        <TextareaField name="reason" label="Why" hint="Everybody can read it." rows={2} maxLength={400} />
        <TextField
          name="checks"
          label="Checks to be taken again"
          optional
          mono
          hint="Such as B6 B12. Leave it empty for those of the close-out: somebody then looks the whole machine over again."
        />
        <SubmitButton kind="bad">Withdraw the certificate</SubmitButton>
      </CommandForm>
    </details>
  )
}
