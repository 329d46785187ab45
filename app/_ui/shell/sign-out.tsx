'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { forgetPage } from '../forget-page'
import { stopMessages } from '../told/this-browser'
import styles from './header.module.css'

/** Ends the session in this browser and loads the page anew, so that nothing personal stays on the screen. */
export function SignOut() {
  const { run, refusal } = useCommand(() => api.people.signOut.mutate())
  const leave = async () => {
    if ((await run(undefined)) !== null) return
    // Whoever uses this browser next is not told of somebody else's bids.
    await stopMessages().catch(() => {})
    await forgetPage()
    window.location.assign('/')
  }
  return (
    <>
      <button type="button" className={styles.quietButton} onClick={leave}>
        Sign out
      </button>
      {refusal && <span role="alert">{refusal.words}</span>}
    </>
  )
}
