'use client'

import { useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import type { SheetRead } from '#gifts/sheets/sheets.contract'
import type { SheetPage } from '#gifts/sheets/sheets.service'
import type { TableChoice } from '#kernel/table-in'

export type OpenSheet = SheetPage & { read: SheetRead }

/** A sheet with what was chosen and answered. Each choice is kept in the house at once, and the sheet is read again by it. */
export function useSheet(first: OpenSheet) {
  const [sheet, setSheet] = useState(first)
  const command = useCommand(api.sheets.choose.mutate)
  const wanted = useRef({ choice: first.choice, answers: first.answers })
  const busy = useRef(false)
  const isStale = useRef(false)

  /** Answers once it was read by the last of the choices; false where that was refused. */
  const keep = async (): Promise<boolean> => {
    isStale.current = true
    if (busy.current) return false
    busy.current = true
    try {
      while (isStale.current) {
        isStale.current = false
        const page = await command.run({ id: first.id, ...wanted.current })
        if (!page) return false
        if (page.read) setSheet({ ...page, read: page.read })
      }
      return true
    } finally {
      busy.current = false
    }
  }
  return {
    sheet,
    pending: command.pending,
    refusal: command.refusal,
    forget: command.forget,
    read: keep,
    choose(choice: TableChoice) {
      wanted.current = { ...wanted.current, choice }
      void keep()
    },
    /** What is mended is kept with the next reading. */
    mend(choice: TableChoice) {
      wanted.current = { ...wanted.current, choice }
    },
    answer(answers: Record<string, string>) {
      wanted.current = { ...wanted.current, answers: { ...wanted.current.answers, ...answers } }
      void keep()
    },
    /** The same answer for all of a group, in place of what was answered one by one. */
    answerAll(group: string, keys: readonly string[], value: string) {
      const others = Object.entries(wanted.current.answers).filter(([key]) => !keys.includes(key))
      wanted.current = { ...wanted.current, answers: { ...Object.fromEntries(others), [`all ${group}`]: value } }
      void keep()
    },
    choice: () => wanted.current.choice,
  }
}
