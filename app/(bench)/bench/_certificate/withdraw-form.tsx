'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { CommandForm } from '../../../_ui/forms/command-form'
import { SubmitButton } from '../../../_ui/forms/submit-button'
import { TextareaField } from '../../../_ui/forms/text-fields'

/** Ends a certificate by hand. It cannot be undone, only followed by a new one: the form says so. */
export function WithdrawForm({ serial, tag }: { serial: string; tag: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.certificates.withdraw.mutate)
  return (
    <details>
      <summary>Withdraw {serial}</summary>
      <CommandForm
        run={(form) => run({ serial, reason: form.text('reason') })}
        pending={pending}
        refusal={refusal}
        onDone={() => router.refresh()}
        emptyWhenDone
      >
        <p>
          Its page will say withdrawn, with your reason, for good. An open lot of {tag} goes on hold; one that is not open yet cannot open
          until a new certificate is issued.
        </p>
        <TextareaField name="reason" label="Why" hint="Everybody can read it." rows={2} maxLength={400} />
        <SubmitButton kind="bad">Withdraw the certificate</SubmitButton>
      </CommandForm>
    </details>
  )
}
