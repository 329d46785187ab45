'use client'

import type { inferRouterOutputs } from '@trpc/server'
import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { When } from '#app/_ui/when.tsx'
import type { RootRouter } from '#doors/trpc/root'

type NoticeView = inferRouterOutputs<RootRouter>['quarantine']['notices'][number]

/** Who to tell of a quarantine, or of its end, and who was told. */
export function WhomToTell({ notices, zone }: { notices: readonly NoticeView[]; zone: string }) {
  return (
    <section className="stack close" aria-label="Who to tell">
      <h3>Who to tell</h3>
      {notices.map((notice) => (
        <OneToTell key={notice.id} notice={notice} zone={zone} />
      ))}
    </section>
  )
}

function OneToTell({ notice, zone }: { notice: NoticeView; zone: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.quarantine.tell.mutate)
  const { id, name, who, unit, mail, about, toldAt, toldHow, draft } = notice
  const said = `${name}, ${who === 'buyer' ? `who bought ${unit}` : 'who gave it'}${about === 'lifted' ? ': that it was unfounded' : ''}`
  if (toldAt !== null) {
    return (
      <p className="small">
        {said}: told {toldHow === 'letter' ? 'by letter' : 'by hand'}, <When at={toldAt} zone={zone} brief />
      </p>
    )
  }
  return (
    <details>
      <summary>
        <b>To tell:</b> {said}
      </summary>
      {mail !== '' && (
        <CommandForm
          label={`Letter to ${name}`}
          run={(form) => run({ noticeId: id, how: 'letter', subject: form.text('subject'), body: form.text('body') })}
          pending={pending}
          refusal={refusal}
          onDone={() => router.refresh()}
        >
          <TextField name="subject" label="Subject" defaultValue={draft.subject} maxLength={160} />
          <TextareaField name="body" label={`Letter to ${mail}`} defaultValue={draft.body} rows={10} maxLength={4000} />
          <SubmitButton kind="line">Send the letter</SubmitButton>
        </CommandForm>
      )}
      <CommandForm
        label={`${name} was told by hand`}
        run={() => run({ noticeId: id, how: 'by hand' })}
        pending={pending}
        refusal={mail === '' ? refusal : null}
        onDone={() => router.refresh()}
      >
        <SubmitButton kind="line">They were told in person or by telephone</SubmitButton>
      </CommandForm>
    </details>
  )
}
