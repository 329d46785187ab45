'use client'

import { useRef, useState } from 'react'
import type { FieldWords } from '#kernel/refusal'
import type { RefusedWords } from './command-form'

export interface Slips {
  /** What is asked and not answered yet, as the form shows what is refused. */
  asked: RefusedWords | null
  /** Whether the form may be sent: there is nothing to ask, or the reader has said yes to it. Sending again is no answer. */
  mayGo(questions: FieldWords): boolean
  sayYes(): void
  /** What was asked about has changed. */
  forget(): void
}

/** Asks once about amounts that may be a slip of the finger; `SlipAnswers` shows the answers to it. */
export function useSlips(): Slips {
  const [asked, setAsked] = useState<RefusedWords | null>(null)
  const isMeant = useRef(false)
  return {
    asked,
    mayGo(questions) {
      const [words] = Object.values(questions)
      const isToAsk = words !== undefined && !isMeant.current
      setAsked(isToAsk ? { words, fields: questions } : null)
      return !isToAsk
    },
    sayYes: () => {
      isMeant.current = true
    },
    forget: () => {
      isMeant.current = false
      setAsked(null)
    },
  }
}
