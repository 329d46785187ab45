'use client'

import { useEffect, useId, useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { refusedBy } from '#app/_trpc/use-command.ts'
import { Dialog } from '../dialog'
import { Notice } from '../notice'
import { ByCode } from './by-code'
import { ByPasskey } from './by-passkey'

type Ways = Awaited<ReturnType<typeof api.confirm.ways.query>>

/**
 * Asks for a proof where somebody stands: the page beneath stays as it is, with all that was typed, and goes on with what
 * was asked for as soon as there is one.
 */
export default function ConfirmDialog({ onDone }: { onDone(isSure: boolean): void }) {
  const dialog = useRef<HTMLDialogElement>(null)
  const isSure = useRef(false)
  const titleId = useId()
  const [ways, setWays] = useState<Ways | null>(null)
  const [refused, setRefused] = useState<string | null>(null)
  useEffect(() => {
    dialog.current?.showModal()
    api.confirm.ways.query().then(setWays, (reason) => setRefused(refusedBy(reason).words))
  }, [])
  const proved = () => {
    isSure.current = true
    dialog.current?.close()
  }
  return (
    <Dialog ref={dialog} titleId={titleId} kind="first" onClose={() => onDone(isSure.current)}>
      <div className="stack close">
        <h2 id={titleId}>Confirm that it is you</h2>
        <p>
          This is asked before anything that could do harm from a screen that was left open. What you typed stays, and goes on by itself
          once you have confirmed; for ten minutes you are not asked again.
        </p>
        {refused !== null && <Notice tone="bad">{refused}</Notice>}
        {ways && (
          <>
            {ways.hasPasskey && <ByPasskey publicUrl={ways.publicUrl} onProved={proved} />}
            <ByCode email={ways.email} isFirst={!ways.hasPasskey} onProved={proved} />
          </>
        )}
        <div className="row">
          <button type="button" className="button-line" onClick={() => dialog.current?.close()}>
            Not now
          </button>
        </div>
      </div>
    </Dialog>
  )
}
