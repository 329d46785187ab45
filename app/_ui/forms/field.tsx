'use client'

import type { ReactNode } from 'react'
import { classes } from '../classes'
import { ToneMark } from '../tone-mark'
import styles from './field.module.css'
import { useWiring, type Wiring } from './form-context'

export interface FieldProps {
  /** As in the contract: a refusal names the field by it. */
  name: string
  label: ReactNode
  hint?: ReactNode
  optional?: boolean
  /** Words from elsewhere; as a rule they come from the form's refusal. */
  error?: string
  /** Said to whoever hears the page; others see what it is by where it stands. */
  isLabelHidden?: boolean
}

/** Label above, hint, the control, and the error beside it. Hand the wiring on to the control. */
export function Field({
  name,
  label,
  hint,
  optional,
  error,
  isLabelHidden,
  children,
}: FieldProps & { children: (wiring: Wiring) => ReactNode }) {
  const wiring = useWiring(name, hint, error)
  return (
    <div className={classes(styles.field, wiring.error && styles.wrong)}>
      <label htmlFor={wiring.id} className={isLabelHidden ? 'visually-hidden' : styles.label}>
        {label}
        {optional && <span className={styles.optional}> (optional)</span>}
      </label>
      <Hint id={wiring.id}>{hint}</Hint>
      <ErrorWords id={wiring.id}>{wiring.error}</ErrorWords>
      {children(wiring)}
    </div>
  )
}

/** Several controls under one question. */
export function FieldGroup({ name, label, hint, optional, error, children }: FieldProps & { children: (wiring: Wiring) => ReactNode }) {
  const wiring = useWiring(name, hint, error)
  return (
    <fieldset
      id={wiring.id}
      tabIndex={-1}
      className={classes(styles.field, wiring.error && styles.wrong)}
      aria-describedby={wiring.describedBy}
    >
      <legend className={styles.label}>
        {label}
        {optional && <span className={styles.optional}> (optional)</span>}
      </legend>
      <Hint id={wiring.id}>{hint}</Hint>
      <ErrorWords id={wiring.id}>{wiring.error}</ErrorWords>
      {children(wiring)}
    </fieldset>
  )
}

export function Hint({ id, children }: { id: string; children: ReactNode }) {
  if (!children) return null
  return (
    <div id={`${id}-hint`} className={styles.hint}>
      {children}
    </div>
  )
}

export function ErrorWords({ id, children }: { id: string; children: string | undefined }) {
  if (!children) return null
  return (
    <p id={`${id}-error`} className={styles.error}>
      <ToneMark tone="bad" size={14} />
      <span>
        <span className="visually-hidden">Error: </span>
        {children}
      </span>
    </p>
  )
}
