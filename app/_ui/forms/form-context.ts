'use client'

import { createContext, useContext } from 'react'
import type { FieldWords } from '#kernel/refusal'

export interface FormState {
  /** Prefix of the ids of this form's fields: two forms on a page must not share them. */
  prefix: string
  errors: FieldWords
  pending: boolean
}

export const FormContext = createContext<FormState>({ prefix: 'f', errors: {}, pending: false })

export const fieldId = (prefix: string, name: string): string => `${prefix}-${name.replaceAll(/[^A-Za-z0-9]+/g, '-')}`

export interface Wiring {
  id: string
  error: string | undefined
  /** For `aria-describedby`: the hint and the error that exist. */
  describedBy: string | undefined
}

/** The id of a field and what describes it, within the form it stands in. */
export function useWiring(name: string, hint: unknown, own?: string): Wiring {
  const { prefix, errors } = useContext(FormContext)
  const id = fieldId(prefix, name)
  const error = own ?? errors[name]
  const parts = [hint ? `${id}-hint` : null, error ? `${id}-error` : null].filter(Boolean)
  return { id, error, describedBy: parts.length > 0 ? parts.join(' ') : undefined }
}
