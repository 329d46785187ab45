import { statSync } from 'node:fs'

/**
 * Where an open file stands. Whoever has a file open goes on writing to it when its folder is moved or deleted, or another file is put
 * there: nothing fails, and nothing that is written then is found by whoever opens the house next.
 */
export interface Place {
  /** Whether the name still leads to the file that was opened. */
  isKept(): boolean
}

export function placeOf(file: string): Place {
  const opened = statSync(file, { bigint: true })
  return {
    isKept() {
      const now = statSync(file, { bigint: true, throwIfNoEntry: false })
      return now !== undefined && now.ino === opened.ino && now.dev === opened.dev
    },
  }
}
