'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { useFormKey } from '../../../_trpc/use-form-key'
import { CommandForm } from '../../../_ui/forms/command-form'
import { SubmitButton } from '../../../_ui/forms/submit-button'

export function AnswerForm({ offerId, lot }: { offerId: string; lot: number }) {
  const router = useRouter()
  const { key } = useFormKey()
  const declining = useFormKey()
  const { run, pending, refusal } = useCommand(api.invoices.answerOffer.mutate)
  const done = ({ accepted }: { accepted: boolean }) => (accepted ? router.push(`/me/won/${lot}`) : router.refresh())
  return (
    <div className="row">
      <CommandForm
        label="Accept the offer"
        pending={pending}
        refusal={refusal}
        run={() => run({ key, offerId, accepts: true })}
        onDone={done}
      >
        <SubmitButton>I take it</SubmitButton>
      </CommandForm>
      <CommandForm
        label="Decline the offer"
        pending={pending}
        refusal={null}
        run={() => run({ key: declining.key, offerId, accepts: false })}
        onDone={done}
      >
        <SubmitButton kind="line">No, thank you</SubmitButton>
      </CommandForm>
    </div>
  )
}
