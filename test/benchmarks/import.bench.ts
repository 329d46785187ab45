import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { monitorEventLoopDelay } from 'node:perf_hooks'
import { test } from 'vitest'
import type { BuildAnswer, BuildQuestion } from '#bench/buildable/build.contract'
import type { ListOrder, ListsRead } from '#bench/designs/list-reading'
import { run, unit } from '#db/schema/index'
import { openLog } from '#runtime/settings/log'
import { openWorkshop } from '#runtime/workers/workers'
import { openStage } from '#test/stage'
import { print } from './open-house'
import { row } from './rows'

// How long a design of 3,000 lines, each a part of its own, holds the house's one thread without a turn of the loop: when it is read,
// stored, stored over and shown as what can be built. Against one pass over the same lines; nothing is asserted: it prints.
const LINES = 3000
const UNITS = 4
const MEANT_MS = 50
const ROUNDS = 3

const dist = (name: string) => join(import.meta.dirname, '..', '..', 'dist', name)

/** The longest time between two turns of the loop, in ms. */
async function longestTurn(work: () => Promise<unknown>): Promise<number> {
  const delays = monitorEventLoopDelay({ resolution: 1 })
  delays.enable()
  await new Promise((resolve) => setTimeout(resolve, 20))
  delays.reset()
  await work()
  await new Promise((resolve) => setTimeout(resolve, 5))
  delays.disable()
  return delays.max / 1e6
}

test.skipIf(!existsSync(dist('list-worker.mjs')))('a design of 3,000 lines', { timeout: 300_000 }, async () => {
  const log = openLog('silent')
  const stage = openStage()
  const listReader = openWorkshop<ListOrder, ListsRead>({ entry: dist('list-worker.mjs'), log })
  const builder = openWorkshop<BuildQuestion, BuildAnswer>({ entry: dist('build-worker.mjs'), log })
  Object.assign(stage.house, { listReader, builder })
  try {
    const maker = await stage.as('maker')
    const prefixes = ['R', 'k', 'M', 'G']
    const rows = Array.from({ length: LINES }, (_, n) => `R${n + 1},${100 + (n % 900)}${prefixes[Math.floor(n / 900)]},1,audio,`)
    const lists = (revision: string) => ({
      key: 'bench',
      name: 'Bench',
      revision,
      decisionRule: 'simple' as const,
      checklist: {
        text: 'step,stage,hold,title,kind,nominal,lower,upper,unit,after,exercises,powered,minutes\nK1,a,n,A,measure,5,4,6,V,,audio,y,1',
      },
      feeds: { text: 'from,to,kind\nsupply,audio,power' },
      partsList: { text: ['designators,value,quantity,blocks,after', ...rows].join('\n') },
    })
    const began = performance.now()
    for (let n = 0; n < 20; n++) JSON.parse(JSON.stringify(rows))
    const pass = (performance.now() - began) / 20
    const { checklist, partsList, feeds } = lists('A')
    const times: Record<string, number[]> = { read: [], stored: [], 'shown as what can be built': [] }
    for (let round = 0; round < ROUNDS; round++) {
      times.read?.push(await longestTurn(() => maker.designs.preview({ checklist, partsList, feeds })))
      times.stored?.push(await longestTurn(() => maker.designs.import(lists(String(round)))))
    }
    const [design] = await maker.designs.list()
    await stage.command(({ db, now }) => {
      db.insert(run)
        .values({ id: 'run', designId: design?.id ?? '', tagPrefix: 'WREN', at: now })
        .run()
      for (let n = 1; n <= UNITS; n++)
        db.insert(unit)
          .values({ id: `unit-${n}`, tag: `WREN-0${n}`, runId: 'run', number: n, at: now, setAsideAt: null, setAsideReason: null })
          .run()
    })
    for (let round = 0; round < ROUNDS; round++) times['shown as what can be built']?.push(await longestTurn(() => maker.buildable.now()))
    for (const [what, found] of Object.entries(times)) {
      print(`${what}: ${found.map((ms) => ms.toFixed(0)).join(', ')} ms`)
      const half = found.toSorted((a, b) => a - b)[1] ?? 0
      row({
        measure: `longest turn while ${LINES} lines are ${what}, ms`,
        run: half,
        baseline: pass,
        of: 'one pass over the lines',
        goal: { runAtMost: MEANT_MS },
      })
    }
  } finally {
    listReader.close()
    builder.close()
    stage.close()
  }
})
