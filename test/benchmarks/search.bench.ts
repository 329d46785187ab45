import { test } from 'vitest'
import { COMMON_CATCH } from '#bench/faults/catch.rules'
import { type Mending, mend, slipped } from '#test/make/mending'
import {
  chances,
  DEMO_MACHINES,
  inOrder,
  leastMinutes,
  type Machine,
  ranked,
  readMachine,
  type Search,
  shuffled,
  walk,
} from '#test/make/search'

// How long a fault is looked for: where the house says to look, beside checklist order and any order. Asserts nothing: it prints.
const print = (words: string) => process.stdout.write(`${words}\n`)
const mean = (figures: number[]) => figures.reduce((sum, one) => sum + one, 0) / Math.max(1, figures.length)
const SHUFFLES = 40
const TRIALS = 40

type Pick = (trial: number) => (state: Parameters<typeof ranked>[0]) => string | null
const keysOf = (machine: Machine) => machine.checks.map(({ key }) => key)
const WAYS: { name: string; pick: (machine: Machine) => Pick; again: number }[] = [
  { name: 'where to look next', pick: () => () => ranked, again: 1 },
  { name: 'checklist order', pick: (machine) => () => inOrder(keysOf(machine)), again: 1 },
  { name: 'random order', pick: (machine) => (trial) => inOrder(shuffled(keysOf(machine), chances(trial + 1))), again: SHUFFLES },
]

function line(name: string, searches: Search[], base: number | null): string {
  const counts = searches.map(({ checks }) => checks.length)
  const minutes = mean(searches.map((one) => one.minutes))
  const ratio = base === null ? '' : `  ${(minutes / base).toFixed(2)} of checklist order`
  return `    ${name.padEnd(20)} checks ${mean(counts).toFixed(1)} (most ${Math.max(...counts)})  minutes ${minutes.toFixed(1)}${ratio}`
}

function certain(loading: number, seenOnly: boolean, safety: boolean): void {
  for (const key of DEMO_MACHINES) {
    const machine = readMachine(key, { own: 1, feeding: 1, loading }, { seenOnly })
    const { blocks, catches } = machine
    const all = new Map(
      WAYS.map(({ name, pick, again }) => [
        name,
        blocks.flatMap((block) =>
          Array.from({ length: again }, (_, trial) =>
            walk({ machine, enough: 1, safety, pick: pick(machine)(trial), fails: (check) => (catches.get(check)?.get(block) ?? 0) > 0 }),
          ),
        ),
      ]),
    )
    const base = mean(all.get('checklist order')?.map((one) => one.minutes) ?? [])
    const least = leastMinutes(machine) / blocks.length
    print(`  ${key}: ${blocks.length} blocks, ⌈log2 n⌉ + 2 = ${Math.ceil(Math.log2(blocks.length)) + 2}`)
    for (const [name, searches] of all) print(line(name, searches, base))
    if (!safety)
      print(`    the least that any search could take: minutes ${least.toFixed(1)}  ${(least / base).toFixed(2)} of checklist order`)
  }
}

test('a search with certain checks and no history', () => {
  print('Catch 1, no history, soak and close-out never used; every single fault, until nothing more can be told apart.')
  print('Blocks that some other check can see; cold checks and rails are done:')
  certain(0, true, false)
  print('The same, where a current or a rail also catches every load:')
  certain(1, true, false)
  print('The same with the block that only the soak can see among the suspects:')
  certain(0, false, false)
  print('With nothing done at all: power waits for cold checks and rails, which are taken on the way:')
  certain(0, true, true)
})

test('a search with checks that may miss, after the checklist up to its first failure', () => {
  print(`Catch 0.9 (loads 0.5), what was read up to the first failure; ${TRIALS} trials of every single fault, until one block has 0.9.`)
  for (const key of DEMO_MACHINES) {
    const machine = readMachine(key, COMMON_CATCH)
    const { blocks, catches } = machine
    const all = new Map<string, (Search & { right: boolean })[]>(WAYS.map(({ name }) => [name, []]))
    let unnoticed = 0
    for (const [index, block] of blocks.entries()) {
      for (let trial = 0; trial < TRIALS; trial++) {
        const chance = chances(index * 1000 + trial + 7)
        const outcome = new Map(keysOf(machine).map((check) => [check, chance() < (catches.get(check)?.get(block) ?? 0)]))
        const first = keysOf(machine).findIndex((check) => outcome.get(check))
        if (first < 0) {
          unnoticed++
          continue
        }
        const before = keysOf(machine)
          .slice(0, first + 1)
          .map((check) => ({ check, failed: outcome.get(check) === true }))
        for (const { name, pick } of WAYS) {
          const fails = (check: string) => outcome.get(check) === true
          const found = walk({ machine, enough: 0.9, safety: true, before, pick: pick(machine)(trial), fails })
          all.get(name)?.push({ ...found, right: found.found === block })
        }
      }
    }
    const base = mean(all.get('checklist order')?.map((one) => one.minutes) ?? [])
    print(`  ${key}: ${blocks.length} blocks${unnoticed > 0 ? `, ${unnoticed} faults noticed by no check before the soak` : ''}`)
    for (const [name, searches] of all) {
      const right = mean(searches.map((one) => (one.right ? 100 : 0)))
      print(`${line(name, searches, base)}  the right block first in ${right.toFixed(0)} %`)
    }
  }
})

test('mending by what the page says', () => {
  const share = (list: readonly boolean[]) => `${((100 * list.filter(Boolean).length) / Math.max(1, list.length)).toFixed(1)} %`
  const told = (name: string, all: readonly Mending[]) => {
    const mends = mean(all.filter(({ isMended }) => isMended).map((one) => one.mends))
    print(
      `    ${name.padEnd(34)} mended ${share(all.map(({ isMended }) => isMended))}  in ${mends.toFixed(2)} mends  stuck ${share(all.map(({ isStuck }) => isStuck))}`,
    )
  }
  print(
    `Everything is read, the top suspect is changed, everything is read again, until nothing fails or after twelve; ${TRIALS} trials each.`,
  )
  for (const key of DEMO_MACHINES) {
    const machine = readMachine(key, COMMON_CATCH)
    const blunt = readMachine(key, { own: 0.7, feeding: 0.7, loading: 0.35 })
    const singles = (of: Machine, more: Parameters<typeof mend>[3] = {}) =>
      of.blocks.flatMap((block, at) => Array.from({ length: TRIALS }, (_, trial) => mend(of, [block], at * 100 + trial + 1, more)))
    const pairs = machine.blocks.flatMap((one, at) =>
      machine.blocks.slice(at + 1).map((other, beside) => mend(machine, [one, other], at * 1000 + beside + 1)),
    )
    const slips = machine.blocks.flatMap((block, at) =>
      Array.from({ length: TRIALS }, (_, trial) => slipped(machine, block, at * 100 + trial + 1)).flatMap((one) => one ?? []),
    )
    print(`  ${key}`)
    told('single faults, catch 0.9', singles(machine))
    told('pairs, catch 0.9', pairs)
    told('single faults, catch 0.7', singles(blunt))
    told('single faults, 3 % of passes misread', singles(machine, { slips: 0.03 }))
    told('single faults that show in half', singles(machine, { shows: 0.5 }))
    print(
      `    after one slip the guilty block is in the first three in ${share(slips.map(({ place }) => place <= 3))}, at nought in ${share(slips.map((one) => one.share === 0))}`,
    )
  }
}, 300_000)
