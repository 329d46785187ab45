'use client'

import Link from 'next/link'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { ConfirmFault, confirmedFault } from './certificate/confirm-fault'
import { Departures } from './certificate/departures'

/** The unit as a whole: its certificate or what that still lacks, and setting it aside. */
export function WholeUnit({ view, person, again }: { view: BringupView; person: { isMaker: boolean }; again(): void }) {
  const certify = useCommand(api.certificates.issue.mutate)
  const aside = useCommand(api.bringup.setAside.mutate)
  const up = useCommand(api.bringup.takeUp.mutate)
  const { tag } = view
  return (
    <section className="sheet stack" aria-labelledby="certificate">
      <h2 id="certificate">Certificate</h2>
      {view.certificate !== null && (
        <p>
          <Link href={`/certificates/${view.certificate}`} className="code">
            {view.certificate}
          </Link>{' '}
          stands. Anybody can read <Link href={`/units/${tag}`}>its record</Link>.
          {person.isMaker && (
            <>
              {' '}
              <Link href={`/bench/units/${tag}/certificate`}>Issue it again or withdraw it</Link>.
            </>
          )}
        </p>
      )}
      {view.missing.length > 0 && (
        <details>
          <summary>
            {view.missing.length === 1 ? 'One thing is' : `${view.missing.length} things are`} missing before it can be issued
          </summary>
          <ul>
            {view.missing.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </details>
      )}
      {view.formerCertificates.length > 0 && (
        <p className="small quiet">Before: {view.formerCertificates.join(', ')}, which no longer stand.</p>
      )}
      {person.isMaker && view.missing.length === 0 && view.certificate === null && (
        <CommandForm
          label="Certificate"
          pending={certify.pending}
          refusal={certify.refusal}
          run={(form) => certify.run({ tag, ...confirmedFault(form) })}
          onDone={again}
        >
          <Departures departures={view.departures} />
          <ConfirmFault tag={tag} fault={view.fault} />
          <SubmitButton>Issue the certificate</SubmitButton>
        </CommandForm>
      )}
      {person.isMaker && (
        <div className="row">
          {view.setAside === null ? (
            <ConfirmButton
              title={`Set ${tag} aside?`}
              undoes="No check is taken on it, its certificate is withdrawn, and an open lot of it goes on hold at once."
              confirm="Set it aside"
              pending={aside.pending}
              refusal={aside.refusal}
              fields={<TextField name="reason" label="Why it must not go on" />}
              run={(form) => aside.run({ tag, reason: form.text('reason') })}
              onDone={again}
            >
              Set it aside…
            </ConfirmButton>
          ) : (
            <CommandForm label="Put back to work" pending={up.pending} refusal={up.refusal} run={() => up.run({ tag })} onDone={again}>
              <SubmitButton kind="line">Put it back to work</SubmitButton>
            </CommandForm>
          )}
        </div>
      )}
    </section>
  )
}
