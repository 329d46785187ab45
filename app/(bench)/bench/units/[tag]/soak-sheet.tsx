'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { useHouseNow } from '#app/_ui/use-house-now.ts'
import { When } from '#app/_ui/when.tsx'
import { soakClock } from '#bench/units/soak.rules'
import type { CheckView } from '#bench/units/view.contract'
import type { BringupView } from '#floor/bringup/bringup.contract'
import styles from './reading.module.css'
import { SoakNotes } from './soak-notes'

interface SoakSheetProps {
  view: BringupView
  check: CheckView
  seen: string
  zone: string
  take(view: BringupView): void
}

/** A soak is started here; its cold starts and its power are noted as they come and go, and its hours are counted meanwhile. */
export function SoakSheet({ view, check, seen, zone, take }: SoakSheetProps) {
  const { key, renew } = useFormKey()
  const start = useCommand(api.bringup.startSoak.mutate)
  const cold = useCommand(api.bringup.coldStart.mutate)
  const note = useCommand(api.bringup.noteInSoak.mutate)
  const [last, setLast] = useState<'start' | 'cold' | 'note'>('start')
  const running = view.soak?.check === check.key ? view.soak : null
  const now = useHouseNow(view.servedAt, running?.startedAt ?? null)
  const refusal = { start, cold, note }[last].refusal
  const done = (answer: { view: BringupView } | undefined) => {
    if (!answer) return
    renew()
    take(answer.view)
  }
  const on = { key, tag: view.tag, seen }
  const clock = running ? soakClock(running, check, now) : null
  const press = async (which: 'start' | 'cold' | 'note', answer: Promise<{ view: BringupView } | undefined>) => {
    setLast(which)
    done(await answer)
  }
  return (
    <fieldset className={styles.soak}>
      <legend>{running ? 'The soak is running' : 'The soak has not been started here'}</legend>
      {running && clock ? (
        <>
          <p>
            <b className="num">{clock.words}</b>
            <br />
            <span className="small quiet">
              Since <When at={running.startedAt} zone={zone} brief />
              {clock.hoursFullAt !== null && (
                <>
                  ; its hours are up <When at={clock.hoursFullAt} zone={zone} brief />
                </>
              )}
              . {clock.isOver ? 'It is over: enter its faults.' : 'The rack says so when it is over.'}
            </span>
          </p>
          <button type="button" className="button-line" onClick={() => press('cold', cold.run(on))}>
            Note a cold start
          </button>
          <button
            type="button"
            className="button-line"
            onClick={() => press('note', note.run({ ...on, power: clock.isWithoutPower ? 'on' : 'off' }))}
          >
            {clock.isWithoutPower ? 'It has power again' : 'It lost its power'}
          </button>
          <SoakNotes running={running} view={view} seen={seen} zone={zone} take={take} />
        </>
      ) : (
        <button type="button" className="button-line" onClick={() => press('start', start.run({ ...on, check: check.key }))}>
          Start the soak now
        </button>
      )}
      {refusal && <p role="alert">{refusal.words}</p>}
    </fieldset>
  )
}
