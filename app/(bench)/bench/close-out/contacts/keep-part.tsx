'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { sayWhen } from '#app/_ui/when.rules.ts'
import type { KeepView } from '#end/deletion/deletion.contract'
import styles from './contacts.module.css'

const many = (count: number, one: string, more: string) => `${count} ${count === 1 ? one : more}`

/** Whoever has an address here from an earlier campaign is asked, if the maker wants to, whether they want to be kept. */
export function KeepPart({ keeping }: { keeping: KeepView }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.deletion.askToKeep.mutate)
  const { zone, donors, bidders, asked, keep, forget, unanswered, forgotten, answerBy, letter } = keeping
  return (
    <section className="sheet stack" aria-labelledby="kept">
      <h2 id="kept">Who is kept for this campaign</h2>
      {asked > 0 && (
        <p>
          {many(asked, 'person was', 'people were')} asked: {keep} said yes, {forget} said no
          {unanswered > 0 && answerBy !== null && `, ${unanswered} may still answer, until ${sayWhen(answerBy - 1, zone, 'day')}`}
          {forgotten > 0 && `, ${forgotten} did not answer and ${forgotten === 1 ? 'was' : 'were'} forgotten`}.
        </p>
      )}
      {donors + bidders === 0 ? (
        <p>Nobody is left to be asked.</p>
      ) : (
        <>
          <p>
            {many(donors, 'donor', 'donors')} and {many(bidders, 'bidder', 'bidders')} left an address for an earlier campaign and have no
            part in this one yet. Ask them by email, and whoever does not answer is forgotten after the day that you name. If you ask
            nobody, their addresses go when the time of the earlier campaign is up.
          </p>
          <details>
            <summary>The letter</summary>
            <p>
              <b>{letter.subject}</b>
            </p>
            <p className={styles.letter}>{letter.body}</p>
          </details>
          <CommandForm
            run={(form) => run({ answerBy: form.text('answerBy') })}
            pending={pending}
            refusal={refusal}
            onDone={() => router.refresh()}
          >
            <TextField name="answerBy" label="They may answer until the end of" type="date" width="short" />
            <SubmitButton>{donors + bidders === 1 ? 'Send the letter' : `Send ${donors + bidders} letters`}</SubmitButton>
          </CommandForm>
        </>
      )}
    </section>
  )
}
