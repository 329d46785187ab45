import { spawnSync } from 'node:child_process'

/** Where there is no strace, or a container refuses tracing, what a program asks of the system cannot be seen. */
export const mayTrace = (): boolean => spawnSync('strace', ['-o', '/dev/null', 'true']).status === 0

export interface Call {
  name: string
  on: string
  text: string
}

/** The system calls of a trace in the order in which they ended; what was cut in two by another thread is joined. */
export function callsOf(trace: string): Call[] {
  const begun = new Map<string, string>()
  return trace.split('\n').flatMap((line) => {
    const [, thread = '', said = ''] = /^(\d+)\s+(.*)$/.exec(line) ?? []
    if (said.includes('<unfinished ...>')) {
      begun.set(thread, said.replace('<unfinished ...>', ''))
      return []
    }
    const whole = said.startsWith('<... ') ? (begun.get(thread) ?? '') + said.replace(/^<\.\.\. \w+ resumed>/, '') : said
    const [, name = '', on = ''] = /^(\w+)\(\d+<([^>]*)>/.exec(whole) ?? []
    return name === '' ? [] : [{ name, on, text: whole }]
  })
}

export interface Answered {
  /** What its rows are written to the log with, and the sync after the last of them, stand before it. */
  isSynced: boolean
}

/** Every answer of a trace that says yes, and whether what was written since the one before was synced before it left. */
export function answersOf(calls: readonly Call[]): Answered[] {
  const answers: Answered[] = []
  let written = -1
  let synced = -1
  for (const [place, { name, on, text }] of calls.entries()) {
    if (name === 'pwrite64' && on.endsWith('tagstrip.db-wal')) written = place
    else if (/^f(data)?sync$/.test(name) && on.endsWith('tagstrip.db-wal') && text.endsWith('= 0')) synced = place
    else if (on.startsWith('socket') && text.includes('HTTP/1.1 200')) {
      answers.push({ isSynced: written >= 0 && synced > written })
      written = -1
    }
  }
  return answers
}
