import { rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** What one file of tests has told, for those that run after it and beside it: they are all threads of this process. */
export const TOLD = join(tmpdir(), `tagstrip-told-${process.pid}`)

/** Vitest calls this before the first file, and what it returns after the last. */
export default () => () => rmSync(TOLD, { recursive: true, force: true })
