'use client'

import type { ComponentProps } from 'react'
import { CURRENCIES, type Currency } from '#kernel/money'
import { classes } from '../classes'
import { Field, type FieldProps } from './field'
import styles from './field.module.css'

type Input = Pick<
  ComponentProps<'input'>,
  'defaultValue' | 'value' | 'onChange' | 'autoComplete' | 'inputMode' | 'maxLength' | 'autoFocus' | 'spellCheck' | 'list' | 'onKeyDown'
>

export interface TextFieldProps extends FieldProps, Input {
  type?: 'text' | 'email' | 'tel' | 'url' | 'search' | 'datetime-local' | 'date' | 'time'
  /** Characters that fit at a glance; the box is as wide as what belongs in it. */
  width?: 'code' | 'short' | 'full'
  /** Codes and readings in mono figures. */
  mono?: boolean
}

export function TextField({ type = 'text', width = 'full', mono, name, label, hint, optional, error, ...input }: TextFieldProps) {
  return (
    <Field {...{ name, label, hint, optional, error }}>
      {(wiring) => (
        <input
          {...input}
          {...controlProps(name, wiring)}
          type={type}
          className={classes(styles.input, styles[width], mono && styles.mono)}
          spellCheck={mono || type !== 'text' ? false : input.spellCheck}
        />
      )}
    </Field>
  )
}

export interface TextareaFieldProps
  extends FieldProps,
    Pick<ComponentProps<'textarea'>, 'defaultValue' | 'value' | 'onChange' | 'maxLength'> {
  rows?: number
  mono?: boolean
}

export function TextareaField({ rows = 4, mono, name, label, hint, optional, error, ...area }: TextareaFieldProps) {
  return (
    <Field {...{ name, label, hint, optional, error }}>
      {(wiring) => (
        <textarea
          {...area}
          {...controlProps(name, wiring)}
          rows={rows}
          className={classes(styles.input, styles.full, mono && styles.mono)}
          spellCheck={!mono}
        />
      )}
    </Field>
  )
}

/** An amount as people type it; `parseMoney` reads it. The currency stands before the box. */
export function MoneyField({ currency, ...field }: FieldProps & Input & { currency: Currency }) {
  const { name, label, hint, optional, error, ...input } = field
  return (
    <Field {...{ name, label, hint, optional, error }}>
      {(wiring) => (
        <span className={styles.affixed}>
          <span className={styles.affix} aria-hidden="true">
            {CURRENCIES[currency].sign.trim()}
          </span>
          <input
            {...input}
            {...controlProps(name, wiring)}
            type="text"
            inputMode={CURRENCIES[currency].exponent > 0 ? 'decimal' : 'numeric'}
            autoComplete="off"
            className={classes(styles.input, styles.amount)}
          />
        </span>
      )}
    </Field>
  )
}

export interface SelectFieldProps extends FieldProps, Pick<ComponentProps<'select'>, 'defaultValue' | 'value' | 'onChange'> {
  options: readonly { value: string; label: string }[]
}

export function SelectField({ options, name, label, hint, optional, error, ...select }: SelectFieldProps) {
  return (
    <Field {...{ name, label, hint, optional, error }}>
      {(wiring) => (
        <select {...select} {...controlProps(name, wiring)} className={classes(styles.input, styles.select)}>
          {options.map(({ value, label }) => (
            <option key={value} value={value}>
              {label}
            </option>
          ))}
        </select>
      )}
    </Field>
  )
}

const controlProps = (
  name: string,
  { id, describedBy, error }: { id: string; describedBy: string | undefined; error: string | undefined },
) => ({
  id,
  name,
  'aria-describedby': describedBy,
  'aria-invalid': error ? (true as const) : undefined,
})
