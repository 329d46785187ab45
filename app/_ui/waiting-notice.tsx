import { Notice } from './notice'

/** That something waits on this device until the house can be reached, and what was sent since. */
export function WaitingNotice({
  title,
  said,
  isSignedOut,
  isKept,
  note = '',
}: {
  /** What waits, in words; null when all of it was sent. */
  title: string | null
  said: readonly string[]
  isSignedOut: boolean
  isKept: boolean
  note?: string
}) {
  if (title === null && said.length === 0) return null
  return (
    <Notice tone={title === null ? 'ok' : 'doubt'} live="status" title={title ?? undefined}>
      {title !== null && (
        <p>
          {isSignedOut ? 'Sign in and it will be sent.' : 'Sent automatically, once, when the connection is back.'} {note}
          {isKept ? 'You can close the page.' : 'This browser cannot save anything: leave the page open until then.'}
        </p>
      )}
      {said.map((words) => (
        <p key={words}>{words}</p>
      ))}
    </Notice>
  )
}
