import { spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { strayStyles } from './stray-styles'

const root = join(import.meta.dirname, '..', '..')
const planted = join(import.meta.dirname, 'planted')
const config = join(import.meta.dirname, 'dependencies.cjs')
const find = createRequire(import.meta.url)

interface Violation {
  rule: { name: string }
  from: string
  to: string
}
interface Storey {
  name: string
  rooms: string[]
}
const { readStoreys } = find('./storeys.cjs') as { readStoreys(): Storey[] }
const { forbidden } = find('./dependencies.cjs') as { forbidden: { name: string }[] }

const cruise = (tree: string, ...folders: string[]): Violation[] => {
  const tool = join(root, 'node_modules', 'dependency-cruiser', 'bin', 'dependency-cruise.mjs')
  const { stdout } = spawnSync(process.execPath, [tool, '--config', config, '-T', 'json', ...folders], { cwd: tree, encoding: 'utf8' })
  return (JSON.parse(stdout) as { summary: { violations: Violation[] } }).summary.violations
}

const violations = cruise(planted, 'app', 'server', 'db', 'seed')

test.each([
  ['no-circles', 'server/sale/lots/first.ts'],
  ['no-circles', 'server/sale/lots/other-shape.ts'],
  ['storeys-by-name', 'server/sale/lots/lots.service.ts'],
  ['rules-are-pure', 'server/sale/lots/lots.rules.ts'],
  ['pages-hold-no-server', 'app/page.tsx'],
  ['own-store-only', 'server/sale/lots/lots.service.ts'],
  ['routers-are-thin', 'server/sale/lots/lots.router.ts'],
  ['the-house-knows-no-guests', 'server/stock/donors/donors.store.ts'],
  ['what-is-imported-is-there', 'app/page.tsx'],
])('the import rule %s notices what is planted in %s', (rule, file) => {
  expect(violations.map((one) => `${one.rule.name} ${one.from}`)).toContain(`${rule} ${file}`)
})

test('a page takes the style sheets beside it, and one planted elsewhere is noticed', () => {
  expect(strayStyles(planted)).toEqual(['app/(public)/lots/[number]/history/page.tsx → app/(public)/lots/[number]/lot.module.css'])
  expect(strayStyles(root)).toEqual([])
})

// A house of one file for each room, in which every room imports a type from the next one above and from the one below.
const storeys = readStoreys()
const rooms = storeys.flatMap(({ name, rooms }) => (rooms.length === 0 ? [name] : rooms.map((room) => `${name}/${room}`)))
const tower = mkdtempSync(join(planted, 'tower-'))
for (const [index, room] of rooms.entries()) {
  mkdirSync(join(tower, 'server', room), { recursive: true })
  const up = '../'.repeat(room.split('/').length)
  const next = [rooms[index + 1], rooms[index - 1]].filter((one) => one !== undefined)
  const imports = next.map((one, order) => `import type { Fact as Fact${order} } from '${up}${one}/fact'\n`)
  writeFileSync(
    join(tower, 'server', room, 'fact.ts'),
    `${imports.join('')}export type Fact = ${next.map((_, order) => `Fact${order}`)[0]}\n`,
  )
}
const towering = cruise(tower, 'server').filter(({ rule }) => /^(storey|room)-/.test(rule.name))
afterAll(() => rmSync(tower, { recursive: true }))

test('the table of the storeys names each folder of server/, and each room', () => {
  const folders = (path: string) =>
    readdirSync(path, { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map(({ name }) => name)
      .sort()
  expect(storeys.map(({ name }) => name).sort()).toEqual(folders(join(root, 'server')))
  for (const { name, rooms } of storeys) expect([name, [...rooms].sort()]).toEqual([name, folders(join(root, 'server', name))])
})

test.each(rooms.slice(0, -1).map((room, index) => [room, rooms[index + 1] ?? '']))(
  'no type of %s may come from %s, which stands above it',
  (room, above) => {
    expect(towering.map(({ from, to }) => `${from} → ${to}`)).toContain(`server/${room}/fact.ts → server/${above}/fact.ts`)
  },
)

test('every import downward is free', () => {
  expect(towering).toHaveLength(rooms.length - 1)
})

test('every import rule has a violation planted for it', () => {
  const broken = new Set([...violations, ...towering].map((one) => one.rule.name))
  expect(forbidden.map(({ name }) => name).filter((name) => !broken.has(name))).toEqual([])
})

test('the tests of a room are found by its path', () => {
  const known = new Set(rooms)
  const tested = storeys.flatMap(({ name, rooms }) =>
    rooms.length === 0 ? [] : readdirSync(join(root, 'test', name), { withFileTypes: true }).map((entry) => `${name}/${entry.name}`),
  )
  expect(tested.filter((path) => !known.has(path))).toEqual([])
})

test('nothing climbs further than two folders to what it imports', () => {
  const climbing = ['app', 'server', 'db', 'seed', 'test'].flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name) && !name.includes('planted'))
      .map((name) => join(folder, name))
      .filter((name) => /from '\.\.\/\.\.\/\.\.\//.test(readFileSync(join(root, name), 'utf8'))),
  )
  expect(climbing).toEqual([])
})

test('a rules file that asks the clock is noticed, and a service that does so is not', () => {
  const tool = join(root, 'node_modules', '@biomejs', 'biome', 'bin', 'biome')
  const { stdout, stderr } = spawnSync(process.execPath, [tool, 'lint', 'server/sale/lots'], { cwd: planted, encoding: 'utf8' })
  const said = stdout + stderr
  expect(said).toContain('neither clock nor chance')
  expect(said).toContain('lots.rules.ts:3')
  expect(said).not.toContain('clock.service.ts')
})
