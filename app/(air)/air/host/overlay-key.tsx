'use client'

import { useState } from 'react'
import type { Instant } from '../../../../server/kernel/instant'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { ConfirmButton } from '../../../_ui/forms/confirm-button'
import { When } from '../../../_ui/when'
import styles from './host.module.css'

/** The secret in the overlay's address: shown once, when it is made. */
export function OverlayKey({ madeAt, zone, publicUrl }: { madeAt: Instant | null; zone: string; publicUrl: string }) {
  const [key, setKey] = useState<string | null>(null)
  const { run, pending, refusal } = useCommand(() => api.air.changeKey.mutate())
  if (key !== null) {
    return (
      <label className={styles.address}>
        Copy this into the video mixer now; it is not shown again.
        <input readOnly value={`${publicUrl}/air/overlay?key=${key}&show=lot,meter`} onFocus={(event) => event.currentTarget.select()} />
        <span className="quiet">
          It shows lot and meter; names, next and credits (the list of givers that rolls) can be added or stand alone.
        </span>
      </label>
    )
  }
  return (
    <div className="row">
      <p className="quiet">
        {madeAt === null ? (
          'The overlay has no key yet.'
        ) : (
          <>
            Overlay key of <When at={madeAt} zone={zone} brief />
          </>
        )}
      </p>
      <ConfirmButton
        title={madeAt === null ? 'Make a key for the overlay?' : 'Make a new key?'}
        undoes={
          <p>
            {madeAt === null ? 'Whoever has the address sees the overlay.' : 'Overlays opened with the old key go blank within seconds.'}
          </p>
        }
        confirm="Make it"
        pending={pending}
        refusal={refusal}
        run={() => run(undefined)}
        onDone={(answer) => setKey(answer.key)}
      >
        {madeAt === null ? 'Overlay key…' : 'New overlay key…'}
      </ConfirmButton>
    </div>
  )
}
