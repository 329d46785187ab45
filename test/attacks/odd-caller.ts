import { Agent, request } from 'node:http'
import { ROLES, type Role } from '#kernel/role'
import { openStageDoor } from '#test/doors/web/open-door'
import type { Stage } from '#test/stage'

export type Who = Role | 'visitor'
export const EVERYBODY: readonly Who[] = ['visitor', ...ROLES]

export interface Answer {
  status: number
  text: string
}

/** Calls the procedures of a house through its door as anybody, and sees what was written meanwhile. */
export async function openOddCaller(stage: Stage) {
  const door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
  const agent = new Agent({ keepAlive: true, maxSockets: 4 })
  const cookies = new Map<Who, string>()
  let from = 0

  /** Somebody of each role signs in, each time perhaps another: an odd input may have signed them out, or given them another role. */
  const signIn = async () => {
    for (const role of ROLES) {
      const all = stage.db.$client.prepare('SELECT id FROM person WHERE role = ? ORDER BY random() LIMIT 1').pluck().all(role) as string[]
      cookies.set(role, await door.sessionOf(all[0] ?? (await stage.actor(role, `odd ${role}`)).personId))
    }
  }

  const ask = (path: string, method: string, who: Who, body: string): Promise<Answer> =>
    new Promise((resolve, reject) => {
      from = (from + 1) % 60_000
      const headers = {
        origin: stage.house.publicUrl,
        'content-type': 'application/json',
        // Each from a line of its own, so that no limit keeps an input from what it is meant for.
        'x-forwarded-for': `2001:db8:${from.toString(16)}:1::1`,
        cookie: cookies.get(who) ?? '',
        ...(method === 'POST' && { 'content-length': Buffer.byteLength(body) }),
      }
      const asked = request(`${door.url}${path}`, { method, agent, headers }, (answer) => {
        const parts: Buffer[] = []
        answer.on('data', (part: Buffer) => parts.push(part))
        answer.on('end', () => resolve({ status: answer.statusCode ?? 0, text: Buffer.concat(parts).toString() }))
        answer.on('error', reject)
      })
      // A line that the house had closed in the meantime says nothing of it: it is asked anew.
      asked.on('error', (reason) => (asked.reusedSocket ? ask(path, method, who, body).then(resolve, reject) : reject(reason)))
      asked.end(method === 'POST' ? body : undefined)
    })

  return {
    door,
    signIn,
    call(path: string, type: 'query' | 'mutation', who: Who, input: unknown): Promise<Answer> {
      const json = JSON.stringify(input) ?? ''
      return type === 'mutation'
        ? ask(`/api/trpc/${path}`, 'POST', who, json)
        : ask(`/api/trpc/${path}${json === '' ? '' : `?input=${encodeURIComponent(json)}`}`, 'GET', who, '')
    },
    get: (path: string, who: Who) => ask(path, 'GET', who, ''),
    close() {
      agent.destroy()
      door.close()
    },
  }
}

/**
 * Notes in a table of its own each row of the house that is written and stays: what a refused command had begun is undone
 * with it, and stands nowhere.
 */
export function watchChanges(stage: Stage) {
  const { $client } = stage.db
  $client.exec('CREATE TEMP TABLE odd_change (tbl TEXT NOT NULL)')
  const tables = $client
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    .pluck()
    .all() as string[]
  for (const table of tables)
    for (const verb of ['INSERT', 'UPDATE', 'DELETE'])
      $client.exec(
        `CREATE TEMP TRIGGER odd_${verb}_${table} AFTER ${verb} ON main.${table} BEGIN INSERT INTO odd_change VALUES ('${table}'); END`,
      )
  const taken = $client.prepare('SELECT DISTINCT tbl FROM odd_change').pluck()
  const forget = $client.prepare('DELETE FROM odd_change')
  return {
    /** The tables that were written to since this was asked last. */
    since(): string[] {
      const changed = taken.all() as string[]
      forget.run()
      return changed
    },
  }
}
