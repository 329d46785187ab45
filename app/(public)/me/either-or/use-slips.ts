'use client'

import { useState } from 'react'
import type { RefusedWords } from '#app/_ui/forms/command-form.tsx'
import type { FieldWords } from '#kernel/refusal'

export interface Slips {
  /** What is asked and not answered yet, as the form shows what is refused. */
  asked: RefusedWords | null
  /** Whether the form may be sent: there is nothing to ask, or the very same was asked before. */
  mayGo(questions: FieldWords): boolean
  forget(): void
}

/** Asks once about amounts that may be a slip of the finger; who sends the same again means it. */
export function useSlips(): Slips {
  const [asked, setAsked] = useState<RefusedWords | null>(null)
  return {
    asked,
    mayGo(questions) {
      const [words] = Object.values(questions)
      const isAnswered = asked !== null && JSON.stringify(asked.fields) === JSON.stringify(questions)
      const isToAsk = words !== undefined && !isAnswered
      setAsked(isToAsk ? { words, fields: questions } : null)
      return !isToAsk
    },
    forget: () => setAsked(null),
  }
}
