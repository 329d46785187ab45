'use client'

import type { inferRouterOutputs } from '@trpc/server'
import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CheckboxGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import type { RootRouter } from '#doors/trpc/root'

type UnitMeans = inferRouterOutputs<RootRouter>['bringup']['otherRevisions'][number]

/** Units that are built to another revision: what going on by this one means for each, before it is done. */
export function MoveUnits({
  designId,
  revision,
  units,
  isMaker,
}: {
  designId: string
  revision: string
  units: UnitMeans[]
  isMaker: boolean
}) {
  return units.map((unit) => (
    <details key={unit.tag}>
      <summary>
        <b className="code">{unit.tag}</b> at revision {unit.from}: {summary(unit)}
      </summary>
      <UnitMoves designId={designId} revision={revision} unit={unit} isMaker={isMaker} />
    </details>
  ))
}

function summary({ stops, carries, retakes, ends, begins }: UnitMeans): string {
  if (stops !== null) return 'something has to come out first'
  if (carries.length + retakes.length + ends.length === 0) return 'nothing has been read yet'
  const told = [
    `${carries.length} ${carries.length === 1 ? 'reading carries' : 'readings carry'} over`,
    retakes.length > 0 ? `${retakes.length} to be taken again` : '',
    ends.length > 0 ? `${ends.length} no longer asked for` : '',
    begins.length > 0 ? `${begins.length} new` : '',
  ]
  return told.filter(Boolean).join(', ')
}

function UnitMoves({ designId, revision, unit, isMaker }: { designId: string; revision: string; unit: UnitMeans; isMaker: boolean }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.bringup.move.mutate)
  const { tag, stops, carries, retakes, begins, ends } = unit
  return (
    <CommandForm
      label={`Move ${tag}`}
      pending={pending}
      refusal={refusal}
      run={(form) => run({ key, tag, designId, alsoRetake: form.list('alsoRetake') })}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <Told title="To be taken again" rows={retakes} />
      <Told title="No longer asked for; they stay in the record" rows={ends} />
      <Told title="New checks" rows={begins} />
      {isMaker && carries.length > 0 ? (
        <CheckboxGroup
          name="alsoRetake"
          label="These carry over. Tick any you want taken again all the same."
          choices={carries.map(({ check, title, worded }) => ({
            value: check,
            label: (
              <>
                <span className="code">{check}</span> {title}
                {worded && <i> (reworded)</i>}
              </>
            ),
          }))}
        />
      ) : (
        <Told title="These carry over" rows={carries} />
      )}
      {stops !== null && <p>{stops}</p>}
      {isMaker && (
        <SubmitButton kind={retakes.length > 0 ? 'bad' : 'first'}>
          Move {tag} to revision {revision}
        </SubmitButton>
      )}
    </CommandForm>
  )
}

function Told({ title, rows }: { title: string; rows: readonly { check: string; title: string; why?: string }[] }) {
  if (rows.length === 0) return null
  return (
    <>
      <h3>{title}</h3>
      <ul>
        {rows.map(({ check, title: what, why }) => (
          <li key={check}>
            <span className="code">{check}</span> {what}
            {why && `: ${why}`}
          </li>
        ))}
      </ul>
    </>
  )
}
