'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useProgress } from '#app/_trpc/use-progress.ts'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import type { PacksView } from '#end/packs/packs.service'
import { listWords } from '#stock/donors/gift.rules'
import { PackTable } from './pack-table'
import styles from './packs.module.css'

/** Makes a pack, shows how far it is, and lists those that were made. */
export function PackDesk({ packs }: { packs: PacksView }) {
  const router = useRouter()
  const { seen, isRunning, look } = useProgress(
    packs,
    () => api.packs.all.query(),
    (now) => now.present?.state === 'packing',
  )
  const start = useCommand(api.packs.start.mutate)
  const stop = useCommand(() => api.packs.stop.mutate())
  const { present, openLots } = seen
  return (
    <>
      <section className="sheet act stack" aria-labelledby="make">
        <h2 id="make">Make a pack</h2>
        {openLots.length > 0 && (
          <Notice
            tone="doubt"
            title={`${openLots.length === 1 ? `Lot ${openLots[0]} has` : `Lots ${listWords(openLots.map(String), 'and')} have`} not ended yet`}
          >
            <p>
              A pack made now leaves out sealed maxima and reserves. It can be read, but not restored. Make the last one when all lots have
              ended.
            </p>
          </Notice>
        )}
        <CommandForm
          label="Make a pack"
          pending={start.pending}
          refusal={start.refusal}
          run={(form) => start.run({ withContacts: form.ticked('withContacts') })}
          onDone={look}
        >
          <CheckField
            name="withContacts"
            label="With contact data"
            hint="Email addresses, addresses for sending, letters. Destroy such a pack when the time for keeping contact data is up. A pack without it still holds the email addresses of the staff."
            defaultChecked
          />
          <div className="row">
            <SubmitButton>Make it</SubmitButton>
            {isRunning && (
              <button type="button" className="button-line" onClick={() => void stop.run(undefined).then(look)}>
                Stop
              </button>
            )}
          </div>
        </CommandForm>
        {present?.state === 'packing' && (
          <progress className={styles.progress} value={present.done} max={present.of} aria-label="How far the pack is" />
        )}
        <p role="status">{present ? wordsOf(present) : ''}</p>
      </section>
      <PackTable packs={seen.packs} zone={seen.zone} onRemoved={() => router.refresh()} />
    </>
  )
}

function wordsOf({ state, done, of, fileName }: NonNullable<PacksView['present']>): string {
  if (state === 'packing') return `${done} of ${of} files …`
  if (state === 'done') return `${fileName} is ready below.`
  return state === 'stopped' ? 'Stopped. Nothing was kept.' : 'It could not be made. Try again; if it happens again, look in the log.'
}
