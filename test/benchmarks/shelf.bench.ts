import { test } from 'vitest'
import { batch } from '#db/schema/index'
import { makePart } from '#test/make/shelf'
import { openStage } from '#test/stage'

// A parts list of 5,000 lines, and a search over 20,000 batches. Ratios to the same number of rows read and written
// by hand; nothing is asserted: it prints.
const print = (words: string) => process.stdout.write(`${words}\n`)

test('a parts list of 5,000 lines', { timeout: 120_000 }, async () => {
  const stage = openStage()
  const maker = await stage.as('maker')
  const rows = Array.from({ length: 5000 }, (_, n) => `R${n + 1},${100 + (n % 900)}R,1,audio,`)
  const lists = {
    checklist: {
      text: 'step,stage,hold,title,kind,nominal,lower,upper,unit,after,exercises,powered,minutes\nK1,a,n,A,measure,5,4,6,V,,audio,y,1',
    },
    feeds: { text: 'from,to,kind\nsupply,audio,power' },
    partsList: { text: ['designators,value,quantity,blocks,after', ...rows].join('\n') },
  }
  const passes = performance.now()
  for (let n = 0; n < 20; n++) JSON.parse(JSON.stringify(rows))
  const pass = (performance.now() - passes) / 20
  const started = performance.now()
  await maker.designs.preview(lists)
  const read = performance.now() - started
  await maker.designs.import({ key: 'bench', name: 'Bench', revision: 'A', decisionRule: 'simple', ...lists })
  const both = performance.now() - started
  print(
    `5,000 lines: read in ${read.toFixed(0)} ms (${(read / pass).toFixed(0)} passes), read again and stored in ${(both - read).toFixed(0)} ms`,
  )
  stage.close()
})

test('a search over 20,000 batches', { timeout: 120_000 }, async () => {
  const stage = openStage()
  const parts: Awaited<ReturnType<typeof makePart>>[] = []
  for (let n = 0; n < 100; n++)
    parts.push(await makePart(stage, { kind: 'capacitor', name: 'capacitor', value: `${n + 1}0n`, package: `size ${n % 7}` }))
  await stage.command(({ db, now }) => {
    for (let n = 1; n <= 20_000; n++) {
      const code = `B-${String(n).padStart(4, '0')}`
      const row = { id: `batch-${n}`, number: n, code, partId: parts[n % 100]?.id ?? '', giftId: null, boughtFrom: `Seller ${n % 300}` }
      db.insert(batch)
        .values({
          ...row,
          marking: `M${n * 7}`,
          dateCode: String(n % 5000),
          quantity: 10,
          bad: 0,
          state: 'available',
          reason: null,
          at: now,
        })
        .run()
    }
  })
  const volunteer = await stage.as('volunteer')
  for (const words of ['100n', '0.1uF', 'M1234', 'seller 77', 'size 3 seller 12', 'nothing of it', 'B-19']) {
    const times = []
    for (let n = 0; n < 15; n++) {
      const started = performance.now()
      await volunteer.shelf.search({ words })
      times.push(performance.now() - started)
    }
    times.sort((a, b) => a - b)
    print(`"${words}": ${times[7]?.toFixed(1)} ms, the slowest ${times[14]?.toFixed(1)} ms`)
  }
  stage.close()
})
