import Link from 'next/link'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import type { FormValues } from '#app/_ui/forms/form-values.ts'
import { Notice } from '#app/_ui/notice.tsx'

/** A unit with an open fault is certified only by somebody who says that they know of it. */
export function ConfirmFault({ tag, fault }: { tag: string; fault: string | null }) {
  if (fault === null) return null
  return (
    <Notice tone="bad" title={`A fault is open: ${fault}`}>
      <p>
        <Link href={`/bench/units/${tag}/fault`}>Close it first</Link>, with what it was. Or certify it as it is: then the certificate says
        that this fault was open, for everybody to read.
      </p>
      <CheckField name="confirmFault" label="Certify it with this fault open" />
    </Notice>
  )
}

export const confirmedFault = (form: FormValues) => (form.ticked('confirmFault') ? { confirmFault: true } : {})
