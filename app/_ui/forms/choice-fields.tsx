'use client'

import { type ReactNode, useContext } from 'react'
import { classes } from '../classes'
import styles from './choice-fields.module.css'
import { ErrorWords, FieldGroup, type FieldProps, Hint } from './field'
import fields from './field.module.css'
import { FormContext, fieldId, useWiring } from './form-context'

export interface Choice {
  value: string
  label: ReactNode
  hint?: ReactNode
}

export interface RadioGroupProps extends FieldProps {
  choices: readonly Choice[]
  defaultValue?: string
  onChoose?: (value: string) => void
}

/** One of a few, all in view. */
export function RadioGroup({ choices, defaultValue, onChoose, ...field }: RadioGroupProps) {
  return (
    <FieldGroup {...field}>
      {() => (
        <div className={styles.choices}>
          {choices.map((choice) => (
            <Option
              key={choice.value}
              type="radio"
              name={field.name}
              choice={choice}
              checked={choice.value === defaultValue}
              onChoose={onChoose}
            />
          ))}
        </div>
      )}
    </FieldGroup>
  )
}

export interface CheckboxGroupProps extends FieldProps {
  choices: readonly Choice[]
  defaultValues?: readonly string[]
}

/** Any of a few; the values arrive together under one name. */
export function CheckboxGroup({ choices, defaultValues = [], ...field }: CheckboxGroupProps) {
  return (
    <FieldGroup {...field}>
      {() => (
        <div className={styles.choices}>
          {choices.map((choice) => (
            <Option key={choice.value} type="checkbox" name={field.name} choice={choice} checked={defaultValues.includes(choice.value)} />
          ))}
        </div>
      )}
    </FieldGroup>
  )
}

interface OptionProps {
  type: 'radio' | 'checkbox'
  name: string
  choice: Choice
  checked: boolean
  onChoose?: (value: string) => void
}

function Option({ type, name, choice, checked, onChoose }: OptionProps) {
  const { prefix } = useContext(FormContext)
  const id = fieldId(prefix, `${name}-${choice.value}`)
  return (
    <label className={styles.choice} htmlFor={id}>
      <input
        id={id}
        type={type}
        name={name}
        value={choice.value}
        defaultChecked={checked}
        onChange={onChoose ? () => onChoose(choice.value) : undefined}
        aria-describedby={choice.hint ? `${id}-hint` : undefined}
      />
      <span>
        {choice.label}
        <Hint id={id}>{choice.hint}</Hint>
      </span>
    </label>
  )
}

export interface CheckFieldProps extends Omit<FieldProps, 'optional'> {
  defaultChecked?: boolean
  onCheck?: (checked: boolean) => void
}

/** A single yes: the value is "yes" when ticked and absent otherwise. */
export function CheckField({ name, label, hint, error, defaultChecked, onCheck }: CheckFieldProps) {
  const wiring = useWiring(name, hint, error)
  return (
    <div className={classes(fields.field, wiring.error && fields.wrong)}>
      <ErrorWords id={wiring.id}>{wiring.error}</ErrorWords>
      <label className={styles.choice} htmlFor={wiring.id}>
        <input
          id={wiring.id}
          type="checkbox"
          name={name}
          value="yes"
          defaultChecked={defaultChecked}
          onChange={onCheck ? (event) => onCheck(event.currentTarget.checked) : undefined}
          aria-describedby={wiring.describedBy}
          aria-invalid={wiring.error ? true : undefined}
        />
        <span>
          {label}
          <Hint id={wiring.id}>{hint}</Hint>
        </span>
      </label>
    </div>
  )
}
