'use client'

import { useRef } from 'react'
import { Field, type FieldProps } from './field'
import styles from './field.module.css'

export interface NumberStepperProps extends FieldProps {
  defaultValue?: number
  min?: number
  max?: number
  /** What is counted, for the buttons: "One fewer display". */
  thing?: string
  onCount?: (value: number) => void
}

/** A count, − and + beside it, made for a thumb; the figure can be typed as well. */
export function NumberStepper({ defaultValue = 1, min = 0, max = 100_000, thing = 'piece', onCount, ...field }: NumberStepperProps) {
  const box = useRef<HTMLInputElement>(null)
  const step = (by: 1 | -1) => {
    if (!box.current) return
    const typed = Number.parseInt(box.current.value, 10)
    const next = Math.min(max, Math.max(min, (Number.isNaN(typed) ? defaultValue : typed) + by))
    box.current.value = String(next)
    onCount?.(next)
  }
  return (
    <Field {...field}>
      {({ id, describedBy, error }) => (
        <span className={styles.stepper}>
          <button type="button" className={styles.step} onClick={() => step(-1)} aria-label={`One fewer ${thing}`} aria-controls={id}>
            −
          </button>
          <input
            ref={box}
            id={id}
            name={field.name}
            type="text"
            inputMode="numeric"
            autoComplete="off"
            defaultValue={defaultValue}
            onChange={(event) => onCount?.(Number.parseInt(event.currentTarget.value, 10))}
            aria-describedby={describedBy}
            aria-invalid={error ? true : undefined}
            className={styles.count}
          />
          <button type="button" className={styles.step} onClick={() => step(1)} aria-label={`One more ${thing}`} aria-controls={id}>
            +
          </button>
        </span>
      )}
    </Field>
  )
}
