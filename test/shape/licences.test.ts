import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'

// What is shipped, by the lock file, which names the packages of every system that the house runs on. `npm run licences` writes the list anew.
const root = join(import.meta.dirname, '..', '..')

interface Locked {
  version: string
  license?: string
  dev?: boolean
  devOptional?: boolean
}
interface Shipped {
  path: string
  name: string
  version: string
  licence: string
}

const jsonAt = (path: string): unknown => JSON.parse(readFileSync(join(root, path), 'utf8'))

/** Some packages say nothing in their own description; the text that lies beside it does. */
function licenceBeside(path: string): string {
  const file = ['LICENSE', 'LICENSE.md', 'LICENCE'].map((name) => join(root, path, name)).find(existsSync)
  return file && /Permission is hereby granted, free of charge/.test(readFileSync(file, 'utf8')) ? 'MIT' : 'unknown'
}

const { packages } = jsonAt('package-lock.json') as { packages: Record<string, Locked> }
const shipped: Shipped[] = Object.entries(packages)
  .filter(([path, { dev, devOptional }]) => path !== '' && !dev && !devOptional)
  .map(([path, { version, license }]) => ({
    path,
    name: path.replace(/^.*node_modules\//, ''),
    version,
    licence: license ?? licenceBeside(path),
  }))

function listOf(all: readonly Shipped[]): string {
  const parts = [...new Set(all.map(({ licence }) => licence))].sort().map((licence) => {
    const ones = all.filter((one) => one.licence === licence)
    const lines = [...new Set(ones.map(({ name, version }) => `- ${name} ${version}`))].sort()
    return `## ${licence}\n\n${lines.join('\n')}\n`
  })
  return `# Licences of what is shipped\n\nThe packages that run with the house, by their licence as each states it. \`npm run licences\` writes this file.\nWhat is used for tests alone is not among them.\n\n${parts.join('\n')}`
}

test('the list of licences is of exactly what is shipped', async () => {
  expect(shipped.length).toBeGreaterThan(100)
  await expect(listOf(shipped)).toMatchFileSnapshot(join(root, 'LICENCES.md'))
})

test('what is installed is of the version and the licence that the list names', () => {
  const installed = shipped.filter(({ path }) => existsSync(join(root, path, 'package.json')))
  expect(installed.length).toBeGreaterThan(100)
  const other = installed.filter(({ path, version, licence }) => {
    const own = jsonAt(join(path, 'package.json')) as { version: string; license?: string | { type: string } }
    const said = typeof own.license === 'object' ? own.license.type : own.license
    return own.version !== version || (said !== undefined && said !== licence)
  })
  expect(other).toEqual([])
})

test('no package is shipped whose licence nobody states', () => {
  expect(shipped.filter(({ licence }) => licence === 'unknown').map(({ name }) => name)).toEqual([])
})

test('what only the tests use is not shipped with the house', () => {
  const { dependencies, devDependencies } = jsonAt('package.json') as Record<string, Record<string, string>>
  expect(Object.keys(dependencies ?? {})).not.toContain('jose')
  expect(Object.keys(devDependencies ?? {})).toContain('jose')
})
