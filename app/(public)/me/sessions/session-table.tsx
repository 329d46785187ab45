'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { When } from '#app/_ui/when.tsx'
import type { OwnSession } from '#people/sign-in/sessions.contract'

/** One's own sessions; each of the others can be ended, or all at once. */
export function SessionTable({ sessions, zone }: { sessions: readonly OwnSession[]; zone: string }) {
  return (
    <>
      <table className="cards">
        <caption className="visually-hidden">Your sessions, the most recently used first</caption>
        <thead>
          <tr>
            <th scope="col">Browser</th>
            <th scope="col">Signed in</th>
            <th scope="col">Last used</th>
            <th scope="col">Ends if unused</th>
            <th scope="col">
              <span className="visually-hidden">End it</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {sessions.map(({ id, device, openedAt, usedAt, endsAt, isThis }) => (
            <tr key={id}>
              <th scope="row">{device}</th>
              <td data-label="Signed in">
                <When at={openedAt} zone={zone} brief />
              </td>
              <td data-label="Last used">{isThis ? 'now' : <When at={usedAt} zone={zone} brief />}</td>
              <td data-label="Ends if unused">
                <When at={endsAt} zone={zone} brief />
              </td>
              <td>{isThis ? <Chip tone="ok">This one</Chip> : <End id={id} device={device} />}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {sessions.length > 1 && <EndOthers />}
    </>
  )
}

function End({ id, device }: { id: string; device: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.sessions.end.mutate)
  return (
    <CommandForm
      label={`End the session in ${device}`}
      run={async () => ((await run({ id })) === undefined ? undefined : true)}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
    >
      <SubmitButton kind="line">
        End it<span className="visually-hidden">: {device}</span>
      </SubmitButton>
    </CommandForm>
  )
}

function EndOthers() {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(() => api.sessions.endOthers.mutate())
  return (
    <CommandForm
      label="End all other sessions"
      run={() => run(undefined)}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
    >
      <div className="row">
        <SubmitButton kind="line">End all others</SubmitButton>
      </div>
    </CommandForm>
  )
}
