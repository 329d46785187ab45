'use client'

import { TRPCClientError } from '@trpc/client'
import { type FormEvent, type ReactNode, useEffect, useId, useMemo, useRef, useState } from 'react'
import type { FieldWords } from '#kernel/refusal'
import { classes } from '../classes'
import styles from './command-form.module.css'
import { ErrorSummary } from './error-summary'
import { FormContext, fieldId } from './form-context'
import { type FormValues, readForm } from './form-values'
import { useTypedText } from './use-typed-text'

export interface RefusedWords {
  words: string
  fields: FieldWords
}

export interface CommandFormProps<Answer> {
  /** Sends what was filled in, as a rule `(form) => run({…})` of `useCommand`, whose refusal is handed on below. */
  run: (values: FormValues) => Promise<Answer | undefined>
  pending: boolean
  refusal: RefusedWords | null
  onDone?: (answer: Answer) => void
  /** Empties the form once it was taken: for one that is filled in again and again. */
  emptyWhenDone?: boolean
  /** Where a browser without script sends it; other forms say there that they need script. What was typed is never in an address. */
  action?: string
  /** Fields that stand in sight of the button: what is refused of these alone is said there, and nowhere else. */
  inSight?: readonly string[]
  /** Names the form where a page has several. On the bench what is typed into a form with a name survives a reload. */
  label?: string
  /** What is typed here is to be typed anew each time. */
  isTypedAnew?: boolean
  className?: string
  children: ReactNode
}

/**
 * A form that sends one command. What was typed stays until it was taken; a second press while one
 * is under way is absorbed; a refusal stands at the head and beside its fields, and gets the focus.
 */
export function CommandForm<Answer>({
  run,
  pending,
  refusal,
  onDone,
  emptyWhenDone,
  action,
  inSight = [],
  label,
  isTypedAnew = false,
  className,
  children,
}: CommandFormProps<Answer>) {
  const prefix = `f${useId().replaceAll(/[^A-Za-z0-9]/g, '')}`
  const form = useRef<HTMLFormElement>(null)
  const summary = useRef<HTMLDivElement>(null)
  const busy = useRef(false)
  const [settled, setSettled] = useState<Settled<Answer> | null>(null)
  const state = useMemo(() => ({ prefix, errors: refusal?.fields ?? {}, pending }), [prefix, refusal, pending])

  const named = Object.keys(refusal?.fields ?? {})
  const isSummed = refusal !== null && !(named.length > 0 && named.every((name) => inSight.includes(name)))
  const toFocus = useRef(named[0])
  toFocus.current = named[0]
  // A form that opens with a refusal has just been loaded: taking the focus then would throw the reader down the page.
  const first = useRef(refusal)
  useEffect(() => {
    if (refusal && refusal !== first.current) {
      const field = toFocus.current === undefined ? null : document.getElementById(fieldId(prefix, toFocus.current))
      ;(summary.current ?? field)?.focus()
    }
    if (!refusal) first.current = null
  }, [refusal, prefix])

  const typed = useTypedText(form, label === undefined || isTypedAnew ? null : label)
  const done = (answer: Answer) => {
    // A form that showed something first and took nothing yet answers with undefined.
    if (answer !== undefined) typed.forget()
    if (emptyWhenDone) form.current?.reset()
    onDone?.(answer)
  }
  const latest = useRef({ done, refusal })
  latest.current = { done, refusal }
  // Whether it was taken is known only with the next rendering, which brings the refusal or brings none.
  useEffect(() => {
    if (settled && 'answer' in settled && !latest.current.refusal) latest.current.done(settled.answer)
  }, [settled])

  // What the house refused is shown here; a fault of our own belongs to the error page.
  if (settled && 'fault' in settled) throw settled.fault

  const send = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    if (busy.current) return
    busy.current = true
    try {
      setSettled({ answer: (await run(readForm(new FormData(event.currentTarget)))) as Answer })
    } catch (fault) {
      setSettled(fault instanceof TRPCClientError ? null : { fault })
    } finally {
      busy.current = false
    }
  }

  return (
    <FormContext value={state}>
      <form
        ref={form}
        method="post"
        action={action}
        noValidate
        onSubmit={send}
        aria-label={label}
        className={classes(styles.form, className)}
      >
        {refusal && isSummed && <ErrorSummary ref={summary} prefix={prefix} words={refusal.words} fields={refusal.fields} />}
        {action === undefined && (
          <noscript>
            <p className="small">This form needs a browser that runs scripts.</p>
          </noscript>
        )}
        {children}
      </form>
    </FormContext>
  )
}

type Settled<Answer> = { answer: Answer } | { fault: unknown }
