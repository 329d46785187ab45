'use client'

import { type ReactNode, useContext, useEffect, useState } from 'react'
import { classes } from '../classes'
import { FormContext } from './form-context'
import styles from './submit-button.module.css'

export interface SubmitButtonProps {
  children: ReactNode
  /** Said when the answer takes longer than 400 ms. */
  waiting?: string
  /** Outside a CommandForm: whether an answer is awaited. */
  pending?: boolean
  /** `line` when another button of the sheet comes first, `bad` for what destroys. */
  kind?: 'first' | 'line' | 'bad'
  wide?: boolean
  name?: string
  value?: string
}

const KINDS = { first: 'button', line: 'button-line', bad: 'button-bad' } as const

/** Never disabled: a press while one is under way is absorbed by the form. After 400 ms it says that it waits. */
export function SubmitButton({
  children,
  waiting = 'Waiting for an answer',
  pending,
  kind = 'first',
  wide,
  name,
  value,
}: SubmitButtonProps) {
  const form = useContext(FormContext)
  const slow = useSlow(pending ?? form.pending)
  return (
    <>
      <button type="submit" name={name} value={value} className={classes(KINDS[kind], wide && styles.wide)}>
        {slow ? (
          <>
            <span className={styles.turning} aria-hidden="true" />
            {waiting}…
          </>
        ) : (
          children
        )}
      </button>
      <span role="status" className="visually-hidden">
        {slow ? waiting : ''}
      </span>
    </>
  )
}

function useSlow(pending: boolean): boolean {
  const [slow, setSlow] = useState(false)
  useEffect(() => {
    setSlow(false)
    if (!pending) return
    const timer = setTimeout(() => setSlow(true), 400)
    return () => clearTimeout(timer)
  }, [pending])
  return slow && pending
}
