'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { ConfirmFault, confirmedFault } from './confirm-fault'
import { Departures } from './departures'

export interface CertificatePanelProps {
  tag: string
  checks: number
  /** What is missing, in sentences; empty when it may be issued. */
  gaps: { check: string | null; words: string }[]
  standing: { serial: string; issuedAt: number } | null
  /** What is declared as a departure from the method, as it is going to be signed. */
  departures: string[]
  /** The fault that is open, by what fails now. */
  fault: string | null
  /** Only the maker issues; others see what is missing. */
  mayIssue: boolean
}

/** On the bench, beside a unit: whether its certificate may be issued, what is missing, and the button that issues it. */
export function CertificatePanel({ tag, checks, gaps, departures, fault, standing, mayIssue }: CertificatePanelProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.certificates.issue.mutate)
  return (
    <section className="sheet stack" aria-labelledby="certificate">
      <h2 id="certificate">Certificate</h2>
      {standing ? (
        <p>
          <Link className="code" href={`/certificates/${standing.serial}`}>
            {standing.serial}
          </Link>{' '}
          stands for {tag}. A rework withdraws it automatically.
        </p>
      ) : (
        <p>There is none for {tag}. Without one its lot cannot open.</p>
      )}
      {gaps.length > 0 ? (
        <>
          <p>{gaps.length === 1 ? 'One thing is missing:' : `${gaps.length} things are missing:`}</p>
          <ul>
            {gaps.slice(0, 5).map((gap) => (
              <li key={gap.words}>{gap.words}</li>
            ))}
          </ul>
          {gaps.length > 5 && (
            <details>
              <summary>And {gaps.length - 5} more</summary>
              <ul>
                {gaps.slice(5).map((gap) => (
                  <li key={gap.words}>{gap.words}</li>
                ))}
              </ul>
            </details>
          )}
        </>
      ) : null}
      <Departures departures={departures} />
      {gaps.length > 0 ? null : mayIssue ? (
        <CommandForm
          label="Certificate"
          run={(form) => run({ tag, ...confirmedFault(form) })}
          pending={pending}
          refusal={refusal}
          onDone={() => router.refresh()}
        >
          <p>
            All {checks} checks have a current pass. Issuing signs them as they are; if nothing has changed since the last certificate, that
            one is kept.
          </p>
          <ConfirmFault tag={tag} fault={fault} />
          <SubmitButton kind={standing ? 'line' : 'first'} waiting="Signing">
            {standing ? 'Issue it again' : 'Issue the certificate'}
          </SubmitButton>
        </CommandForm>
      ) : (
        <p>Nothing is missing. The maker can issue it.</p>
      )}
    </section>
  )
}
