'use client'

import type { Ref } from 'react'
import type { FieldWords } from '#kernel/refusal'
import { ToneMark } from '../tone-mark'
import styles from './error-summary.module.css'
import { fieldId } from './form-context'

export interface ErrorSummaryProps {
  words: string
  fields: FieldWords
  /** The prefix of the form's field ids. */
  prefix: string
  ref?: Ref<HTMLDivElement>
}

/** What stands in the way, at the head of the form, in the very words that stand beside each field. */
export function ErrorSummary({ words, fields, prefix, ref }: ErrorSummaryProps) {
  const named = Object.entries(fields)
  const linked = (name: string) => `#${fieldId(prefix, name)}`
  return (
    <div ref={ref} tabIndex={-1} role="alert" className={styles.summary} aria-labelledby={`${prefix}-summary`}>
      <p id={`${prefix}-summary`} className={styles.title}>
        <ToneMark tone="bad" size={16} />
        {named.length === 0 ? words : named.length === 1 ? 'One thing to put right' : `${named.length} things to put right`}
      </p>
      {named.length > 0 && (
        <ul>
          {named.map(([name, sentence]) => (
            <li key={name}>
              <a href={linked(name)} onClick={(event) => focusField(event, fieldId(prefix, name))}>
                {sentence}
              </a>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}

/** Following a link moves the view; to go on typing, the focus must move as well. */
function focusField(event: { preventDefault(): void }, id: string) {
  const field = document.getElementById(id)
  if (!field) return
  event.preventDefault()
  field.focus()
  field.scrollIntoView({ block: 'center' })
}
