import { mkdirSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import type { BrowserContext } from '@playwright/test'

interface Reached {
  paths: Set<string>
  procedures: Set<string>
}

const reached = new Map<string, Reached>()

/** Notes which addresses and procedures a file of journeys asks the house for, so that a change can be followed to it. */
export function noteReached(context: BrowserContext, file: string): void {
  const into = process.env.REACHED_BY_JOURNEYS
  if (!into) return
  const note = reached.get(file) ?? { paths: new Set(), procedures: new Set() }
  reached.set(file, note)
  context.on('request', (request) => {
    const { pathname } = new URL(request.url())
    const before = note.paths.size + note.procedures.size
    const procedures = /^\/api\/trpc\/([\w.,]+)$/.exec(pathname)?.[1]
    if (procedures) for (const name of procedures.split(',')) note.procedures.add(name)
    else if (!/^\/(_next|api)\//.test(pathname)) note.paths.add(pathname)
    if (note.paths.size + note.procedures.size > before) keep(into, file, note)
  })
}

function keep(into: string, file: string, { paths, procedures }: Reached): void {
  mkdirSync(into, { recursive: true })
  const said = { paths: [...paths].sort(), procedures: [...procedures].sort() }
  writeFileSync(join(into, `${basename(file)}.json`), JSON.stringify(said))
}
