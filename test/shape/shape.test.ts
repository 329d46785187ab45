import { spawnSync } from 'node:child_process'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { expect, test } from 'vitest'

const root = join(import.meta.dirname, '..', '..')
const planted = join(import.meta.dirname, 'planted')

interface Violation {
  rule: { name: string }
  from: string
}

const cruise = (): Violation[] => {
  const config = join(import.meta.dirname, 'dependencies.cjs')
  const tool = join(root, 'node_modules', 'dependency-cruiser', 'bin', 'dependency-cruise.mjs')
  const { stdout } = spawnSync(process.execPath, [tool, '--config', config, '-T', 'json', 'app', 'server', 'db', 'seed'], {
    cwd: planted,
    encoding: 'utf8',
  })
  return (JSON.parse(stdout) as { summary: { violations: Violation[] } }).summary.violations
}

const violations = cruise()

test.each([
  ['no-circles', 'server/lots/first.ts'],
  ['rules-are-pure', 'server/lots/lots.rules.ts'],
  ['pages-hold-no-server', 'app/page.tsx'],
  ['own-store-only', 'server/lots/lots.service.ts'],
  ['routers-are-thin', 'server/lots/lots.router.ts'],
  ['the-house-knows-no-guests', 'server/donors/donors.store.ts'],
  ['what-is-imported-is-there', 'app/page.tsx'],
])('the import rule %s notices what is planted in %s', (rule, file) => {
  expect(violations.map((one) => `${one.rule.name} ${one.from}`)).toContain(`${rule} ${file}`)
})

test('every import rule has a violation planted for it', () => {
  const config = createRequire(import.meta.url)('./dependencies.cjs') as { forbidden: { name: string }[] }
  const broken = new Set(violations.map((one) => one.rule.name))
  expect(config.forbidden.map(({ name }) => name).filter((name) => !broken.has(name))).toEqual([])
})

test('a rules file that asks the clock is noticed, and a service that does so is not', () => {
  const tool = join(root, 'node_modules', '@biomejs', 'biome', 'bin', 'biome')
  const { stdout, stderr } = spawnSync(process.execPath, [tool, 'lint', 'server/lots'], { cwd: planted, encoding: 'utf8' })
  const said = stdout + stderr
  expect(said).toContain('neither clock nor chance')
  expect(said).toContain('lots.rules.ts:3')
  expect(said).not.toContain('clock.service.ts')
})
