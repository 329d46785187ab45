'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import type { PlanningView } from '#sale/planning/wish.contract'
import { NothingFits } from './nothing-fits'
import { Planned } from './planned'
import styles from './planner.module.css'
import { SearchGauge } from './search-gauge'

export interface PlanSheetProps {
  /** The number of the stream day. */
  day: number
  planning: PlanningView
  look(): void
}

/** Lets the day be planned, shows the search as it goes, and what came of it. */
export function PlanSheet({ day, planning, look }: PlanSheetProps) {
  const start = useCommand(api.planning.start.mutate)
  const stop = useCommand(() => api.planning.stop.mutate())
  const { running, lots, withoutEstimate } = planning
  const isRunning = running?.state === 'searching' || running?.state === 'pricing'
  return (
    <section className="sheet stack" aria-labelledby="let-plan">
      <h2 id="let-plan">Let it be planned</h2>
      <p className="quiet">
        {lots.length === 1 ? 'One lot has' : `${lots.length} lots have`} no announced time. The plan puts each where it is expected to raise
        most, and makes a day of it: no long silence, no crowd, the best ones late, where most are awake, with others between them. Who
        sleeps is reckoned to leave a maximum. What is announced stays.
      </p>
      {withoutEstimate.length > 0 && (
        <Notice tone="doubt">
          <p>
            {withoutEstimate.map((lot) => `Lot ${lot}`).join(', ')} {withoutEstimate.length === 1 ? 'has' : 'have'} no likely estimate, so
            the plan puts {withoutEstimate.length === 1 ? 'it' : 'them'} where there is room.
          </p>
        </Notice>
      )}
      <CommandForm
        label="Let it be planned"
        pending={start.pending}
        refusal={start.refusal}
        run={(form) =>
          start.run({
            day,
            before: form.text('before'),
            after: form.text('after'),
            allowance: form.text('allowance'),
            likeApart: form.text('likeApart'),
            best: form.text('best'),
            first: form.text('first'),
            silence: form.text('silence'),
            mostAnHour: form.text('mostAnHour'),
            dearestNotFirst: form.ticked('dearestNotFirst'),
          })
        }
        onDone={look}
      >
        <details>
          <summary>What it goes by</summary>
          <div className={styles.settings}>
            <Minutes name="before" label="Minutes before a closing" value="10" />
            <Minutes name="after" label="Minutes after it" value="5" />
            <Minutes name="allowance" label="Minutes for extensions" value="10" />
            <Minutes name="likeApart" label="Minutes between like machines" value="60" />
            <Minutes name="first" label="No closing in the first minutes" value="30" />
            <Minutes name="silence" label="Longest silence, minutes" value="90" />
            <Minutes name="mostAnHour" label="Most in an hour" value="3" />
            <Minutes name="best" label="Best lot at this per cent of the way" value="70" />
          </div>
          <CheckField name="dearestNotFirst" label="The dearest lot is not the first" defaultChecked />
          <p className="small quiet">These are common practice, no more. Change them to what your stream needs.</p>
        </details>
        <div className="row">
          <SubmitButton>{running ? 'Plan it again' : 'Plan the day'}</SubmitButton>
          {isRunning && (
            <button type="button" className="button-line" onClick={() => void stop.run(undefined).then(look)}>
              Stop
            </button>
          )}
        </div>
      </CommandForm>
      {running && <SearchGauge running={running} currency={planning.currency} />}
      {running?.state === 'nothing-fits' && <NothingFits planning={planning} look={look} />}
      {planning.planned.length > 0 && <Planned planning={planning} />}
    </section>
  )
}

function Minutes({ name, label, value }: { name: string; label: string; value: string }) {
  return <TextField name={name} label={label} width="code" inputMode="numeric" defaultValue={value} />
}
