'use client'

import { useRef } from 'react'
import { Field, type FieldProps } from './field'
import styles from './field.module.css'

export interface NumberStepperProps extends FieldProps {
  defaultValue?: number | string
  min?: number
  max?: number
  /** What is counted, for the buttons: "One fewer display". */
  thing?: string
  /** What stands in the box, as it is typed. */
  onType?: (typed: string) => void
}

/** A count, − and + beside it, made for a thumb; the figure can be typed as well. */
export function NumberStepper({ defaultValue = 1, min = 0, max = 100_000, thing = 'piece', onType, ...field }: NumberStepperProps) {
  const box = useRef<HTMLInputElement>(null)
  const step = (by: 1 | -1) => {
    if (!box.current) return
    const typed = Number.parseInt(box.current.value, 10)
    const next = Math.min(max, Math.max(min, (Number.isNaN(typed) ? Number(defaultValue) || 0 : typed) + by))
    box.current.value = String(next)
    onType?.(String(next))
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
            onChange={(event) => onType?.(event.currentTarget.value)}
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
