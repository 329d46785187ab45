import { Notice } from '../notice'

/** Where a code went; a demo, whose mail nobody reads, shows it here. */
export function CodeSent({ email, demoCode }: { email: string; demoCode: string | null }) {
  if (demoCode === null)
    return (
      <p>
        A code is on its way to <b>{email}</b>. It can take a minute; check your spam folder too. If this house has no mail server, whoever
        runs it can read you the code.
      </p>
    )
  return (
    <Notice>
      <p>
        This is a demo, so no email is sent: the code is <b className="code">{demoCode}</b>.
      </p>
    </Notice>
  )
}
