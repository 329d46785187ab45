'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { CommandForm } from '../../../_ui/forms/command-form'
import { ConfirmButton } from '../../../_ui/forms/confirm-button'
import { SubmitButton } from '../../../_ui/forms/submit-button'
import { TextareaField } from '../../../_ui/forms/text-fields'
import styles from './donors.module.css'

interface ToApproveProps {
  giftId: string
  what: string
  name: string
  mail: string
  note: string
  mayDecide: boolean
}

/** One promise from outside, with the two answers that the maker can give. */
export function ToApprove({ giftId, what, name, mail, note, mayDecide }: ToApproveProps) {
  const router = useRouter()
  const accept = useCommand(api.donors.approve.mutate)
  const decline = useCommand(api.donors.decline.mutate)
  const refresh = () => router.refresh()
  return (
    <div className={styles.gift}>
      <p>
        <b>{what}</b>, promised by {name} <span className="quiet">({mail})</span>
      </p>
      {note !== '' && <p className="quiet">“{note}”</p>}
      {mayDecide ? (
        <div className="row">
          <CommandForm
            run={() => accept.run({ giftId })}
            pending={accept.pending}
            refusal={accept.refusal}
            onDone={refresh}
            label={`Accept ${what}`}
          >
            <SubmitButton>Accept it</SubmitButton>
          </CommandForm>
          <ConfirmButton
            run={(form) => decline.run({ giftId, reason: form.text('reason') })}
            pending={decline.pending}
            refusal={decline.refusal}
            onDone={refresh}
            title={`Decline ${what} from ${name}?`}
            undoes={<p>They get a courteous letter with your reason. The promise stays in the record as declined.</p>}
            confirm="Decline it"
            fields={<TextareaField name="reason" label="The reason, as they will read it" rows={3} maxLength={500} />}
          >
            Decline…
          </ConfirmButton>
        </div>
      ) : (
        <p className="small quiet">The maker accepts or declines it.</p>
      )}
    </div>
  )
}
