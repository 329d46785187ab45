import { readdirSync, readFileSync } from 'node:fs'

/** How many files and lines this process has open; null where the system does not say. */
export function openFiles(): number | null {
  try {
    return readdirSync('/proc/self/fd').length
  } catch {
    return null
  }
}

/** How many it may have open at most. */
export function mostOpenFiles(): number | null {
  try {
    const line = /^Max open files\s+(\d+)/m.exec(readFileSync('/proc/self/limits', 'utf8'))
    return line ? Number(line[1]) : null
  } catch {
    return null
  }
}
