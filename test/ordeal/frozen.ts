import { copyFileSync, cpSync, existsSync, mkdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { readJournal } from '#money/journal/journal.store'
import { listBidsOfLot } from '#sale/bids/bids.service'
import { damageOf } from '#sale/bids/kept-right.service'
import { listLots } from '#sale/lots/lots.service'
import { openStage } from '#test/stage'
import { PUBLIC_URL } from './hand'
import type { Standing } from './record'

/**
 * A copy of what a house has on its disk while its process is stopped between two instructions: the very bytes that a kill at this
 * moment would leave. Photographs are left out.
 */
export function freeze(pid: number, dataDir: string, into: string): void {
  process.kill(pid, 'SIGSTOP')
  try {
    while (!isStopped(pid)) Atomics.wait(WAIT, 0, 0, 0.1)
    mkdirSync(into, { recursive: true, mode: 0o700 })
    for (const name of ['tagstrip.db', 'tagstrip.db-wal'])
      if (existsSync(join(dataDir, name))) copyFileSync(join(dataDir, name), join(into, name))
    cpSync(join(dataDir, 'keys'), join(into, 'keys'), { recursive: true })
  } finally {
    process.kill(pid, 'SIGCONT')
  }
}

const WAIT = new Int32Array(new SharedArrayBuffer(4))
const isStopped = (pid: number): boolean => /^\d+ \(.*\) T/s.test(readFileSync(`/proc/${pid}/stat`, 'utf8'))

/** What stands in such a copy, by the house's own rows, and what of it is damaged. */
export function standingInCopy(dir: string): { standing: Standing[]; damage: string[] } {
  const stage = openStage({ now: Date.now(), dir, publicUrl: PUBLIC_URL })
  try {
    const sight = stage.sight()
    const lots = listLots(sight)
    const bids = lots.flatMap(({ id, number }) =>
      listBidsOfLot(sight, id).map((bid) => ({ key: bid.id, words: `bid ${bid.sequence} on lot ${number}` })),
    )
    const gifts = readJournal(sight.db).map(({ reference, memo }) => ({ key: reference, words: memo }))
    const damage = lots.flatMap(({ number }) => damageOf(sight, number) ?? [])
    return { standing: [...bids, ...gifts], damage }
  } finally {
    stage.close()
  }
}
