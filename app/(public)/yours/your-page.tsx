'use client'

import { useCallback, useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { refusedBy } from '#app/_trpc/use-command.ts'
import { Notice } from '#app/_ui/notice.tsx'
import type { Yours } from '#gifts/yours/yours.contract'
import { showMoney } from '#kernel/money'
import { AskLink } from './ask-link'
import { YourGifts } from './your-gifts'
import { YourNaming } from './your-naming'
import styles from './yours.module.css'

type Shown = { is: 'reading' } | { is: 'nobody'; words: string | null } | { is: 'open'; token: string; yours: Yours }

/** Reads the key from behind the `#`, asks for the page with it, and puts it nowhere else. */
export function YourPage({ campaign }: { campaign: string }) {
  const [shown, setShown] = useState<Shown>({ is: 'reading' })
  const open = useCallback(async () => {
    const token = window.location.hash.slice(1)
    if (token === '') return setShown({ is: 'nobody', words: null })
    try {
      setShown({ is: 'open', token, yours: await api.yours.open.mutate({ token }) })
    } catch (reason) {
      setShown({ is: 'nobody', words: refusedBy(reason).words })
    }
  }, [])
  useEffect(() => {
    void open()
    window.addEventListener('hashchange', open)
    return () => window.removeEventListener('hashchange', open)
  }, [open])

  if (shown.is === 'reading') return <p role="status">Opening your page…</p>
  if (shown.is === 'nobody') {
    return (
      <>
        <h1>What became of your gifts</h1>
        {shown.words && <Notice tone="bad" live="alert" title={shown.words} />}
        <p>
          Everybody who gave something{campaign && ` to ${campaign}`} has a page of their own: what became of it, and whether they may be
          named. You open it with a link we email you.
        </p>
        <AskLink />
      </>
    )
  }
  const { token, yours } = shown
  const take = (next: Yours) => setShown({ is: 'open', token, yours: next })
  return (
    <>
      <header className="stack close">
        <h1>What became of your gifts, {yours.creditName}</h1>
        {yours.raised && (
          <p className={styles.raised}>
            <b className="num">{showMoney(yours.raised.minor, yours.currency)}</b>{' '}
            {yours.raised.lots === 1
              ? 'was raised by the lot with your gifts in it'
              : `was raised together by the ${yours.raised.lots} lots with your gifts in them`}
            {yours.cause && `, for ${yours.cause}`}.
          </p>
        )}
      </header>
      <div className={styles.two}>
        <YourGifts yours={yours} />
        <YourNaming
          token={token}
          yours={yours}
          onChanged={take}
          onClosed={() => setShown({ is: 'nobody', words: 'That link is closed and no longer works.' })}
        />
      </div>
    </>
  )
}
