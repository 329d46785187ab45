import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { ADDRESSES } from '#doors/web/addresses'
import { SETTINGS } from '#runtime/settings/config'

const root = join(import.meta.dirname, '..', '..')
const readme = readFileSync(join(root, 'README.md'), 'utf8').replaceAll(/ +\|/g, ' |')
const developers = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8')
const { scripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { scripts: Record<string, string> }

test.each(Object.entries(SETTINGS))('the README names the setting %s and what it is', (name, setting) => {
  const row = readme.split('\n').find((line) => line.startsWith(`| \`${name}\` |`))
  expect(row).toContain(setting.description)
})

test('the README names no setting that there is not', () => {
  const named = [...readme.matchAll(/^\| `([A-Z_]+)` \|/gm)].map(([, name]) => name)
  expect(named.sort()).toEqual(Object.keys(SETTINGS).sort())
})

test.each(ADDRESSES.map(({ path }) => path))('the README names the public address %s', (path) => {
  const shown = path.replaceAll(/:(\w+)/g, '{$1}')
  const [, whole = shown, ending = ''] = /^(.*?)(\.(?:json|pdf|ics))?$/.exec(shown) ?? []
  const row = readme
    .split('\n')
    .find(
      (line) =>
        line.startsWith('|') && (line.includes(`\`${shown}\``) || (line.includes(`\`${whole}\``) && line.includes(`\`${ending}\``))),
    )
  expect(row ?? `no row for ${shown}`).not.toContain('no row')
})

test('every command that the papers name is there', () => {
  const named = [...`${readme}\n${developers}`.matchAll(/npm (?:run )?(test|start|demo|build|dev|bench|backup|restore)\b/g)].map(
    ([, name]) => name ?? '',
  )
  expect(named.filter((name) => scripts[name] === undefined)).toEqual([])
})

test('every picture of the README is there', () => {
  const pictures = [...readme.matchAll(/\]\((public\/[^)]+)\)/g)].map(([, path]) => path ?? '')
  expect(pictures.length).toBeGreaterThanOrEqual(4)
  expect(pictures.filter((path) => !existsSync(join(root, path)))).toEqual([])
})

const paths = (text: string) => [...text.matchAll(/`((?:server|test|db|seed|app|public)\/[\w./()-]+)`/g)].map(([, path]) => path ?? '')

test('every file and folder that the papers of developers name is there', () => {
  const storeys = readdirSync(join(root, 'server'), { withFileTypes: true }).filter((entry) => entry.isDirectory())
  const papers = [developers, ...storeys.map(({ name }) => readFileSync(join(root, 'server', name, 'README.md'), 'utf8'))]
  const named = papers.flatMap(paths).filter((path) => !path.includes('00NN'))
  expect(named.length).toBeGreaterThan(10)
  expect(named.filter((path) => !existsSync(join(root, path)))).toEqual([])
})
