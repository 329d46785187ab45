'use client'

import { type MouseEvent, type ReactNode, useEffect, useState } from 'react'
import styles from './slip-answers.module.css'
import type { Slips } from './use-slips'

/** Nobody has read the question before; the second tap of a finger that tapped twice falls into this time. */
export const UNREAD_MS = 800

interface SlipAnswersProps {
  slips: Slips
  /** The button that says yes, such as "Yes, bid up to £900". */
  yes: ReactNode
}

/**
 * The two answers, in place of the button that was pressed. Where that stood stands "No"; neither does anything until the question
 * can have been read, which a line that fills shows.
 */
export function SlipAnswers({ slips, yes }: SlipAnswersProps) {
  const [isRead, setRead] = useState(false)
  useEffect(() => {
    const timer = setTimeout(() => setRead(true), UNREAD_MS)
    return () => clearTimeout(timer)
  }, [])
  const answer = (say: (form: HTMLFormElement | null) => void) => (event: MouseEvent<HTMLButtonElement>) => {
    if (isRead) say(event.currentTarget.form)
  }
  const onYes = answer((form) => {
    slips.sayYes()
    form?.requestSubmit()
  })
  const onNo = answer((form) => {
    const field = form?.querySelector<HTMLElement>('[aria-invalid="true"]')
    slips.forget()
    field?.focus()
  })
  return (
    <div className={styles.answers} style={{ '--unread': `${UNREAD_MS}ms` } as Record<string, string>}>
      <button type="button" className="button-line" aria-disabled={!isRead} onClick={onYes}>
        {yes}
      </button>
      <button type="button" className="button" aria-disabled={!isRead} onClick={onNo}>
        No, change it
      </button>
    </div>
  )
}
