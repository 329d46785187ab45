import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { describe, expect, test } from 'vitest'
import { ANOTHER_WRITES, DISK_FAILED, LONGEST_GOODBYE_MS } from '#house/programs/ending'
import { SETTINGS } from '#runtime/settings/config'
import { openStage } from '#test/stage'

const root = join(import.meta.dirname, '..', '..', '..')
const programs = join(root, 'server', 'house', 'programs')
const read = (name: string) => readFileSync(join(programs, name), 'utf8')
const { BUNDLE } = await import(pathToFileURL(join(programs, 'bundle.mjs')).href)
const bundled = Object.keys(BUNDLE.entryPoints)

/** The lines of a unit, each with its name and value; one that stands twice is here twice. */
const linesOf = (unit: string) =>
  unit
    .split('\n')
    .filter((line) => /^[A-Z]\w+=/.test(line))
    .map((line) => [line.slice(0, line.indexOf('=')), line.slice(line.indexOf('=') + 1)] as const)

const namesIn = (assignments: string) => [...assignments.matchAll(/\b([A-Z_]+)=/g)].map(([, name]) => name)

describe.each(['tagstrip@.service', 'tagstrip-relay.service'])('the unit %s', (name) => {
  const unit = read(name)
  const lines = linesOf(unit)
  const values = (key: string) => lines.flatMap(([one, value]) => (one === key ? [value] : []))
  const one = (key: string) => {
    expect(values(key), key).toHaveLength(1)
    return values(key)[0] ?? ''
  }

  test('starts programs that the build makes, where they are', () => {
    const [, program = ''] = /^\/usr\/bin\/node dist\/(.+)\.mjs$/.exec(one('ExecStart')) ?? []
    const meant = program === '%i' ? [...unit.matchAll(/^#\s+tagstrip@(\w+)/gm)].map(([, word]) => word) : [program]
    expect(meant.length).toBeGreaterThan(0)
    for (const word of meant) expect(bundled).toContain(word)
    expect(read('kept-by-others.md')).toContain(`\`${one('WorkingDirectory')}\``)
  })

  test('names settings that there are', () => {
    const names = namesIn(values('Environment').join(' ')).filter((setting) => setting !== 'NODE_ENV')
    expect(names.length).toBeGreaterThan(0)
    for (const setting of names) expect(SETTINGS).toHaveProperty(setting ?? '')
    expect(read('kept-by-others.md')).toContain(`\`${one('EnvironmentFile')}\``)
  })

  test('may write where its house lives, and may not where the program lies', () => {
    expect(one('ProtectSystem')).toBe('strict')
    expect(one('PrivateTmp')).toBe('yes')
    expect(values('ReadWritePaths')).toEqual([])
    const [, dataDir] = /DATA_DIR=(\S+)/.exec(one('Environment')) ?? []
    expect(dataDir).toBe(values('StateDirectory')[0] === undefined ? undefined : `/var/lib/${values('StateDirectory')[0]}`)
  })

  test('gives up no sandbox line unseen, and says why one is missing', () => {
    for (const key of ['NoNewPrivileges', 'PrivateDevices', 'ProtectHome', 'RestrictSUIDSGID', 'LockPersonality'])
      expect(one(key)).toBe('yes')
    expect(one('CapabilityBoundingSet')).toBe('')
    expect(values('MemoryDenyWriteExecute')).toEqual([])
    expect(unit).toMatch(/# Left out on purpose: MemoryDenyWriteExecute/)
  })

  test('waits for longer than the program does, and opens it again but where that is wrong', () => {
    expect(Number(one('TimeoutStopSec')) * 1000).toBeGreaterThan(LONGEST_GOODBYE_MS)
    expect(one('Restart')).toBe('on-failure')
    // What copies the house elsewhere has to outlive its last command.
    expect(one('KillMode')).toBe('mixed')
    const never = values('RestartPreventExitStatus').flatMap((codes) => codes.split(' ').map(Number))
    expect(never).toEqual(name === 'tagstrip@.service' ? [ANOTHER_WRITES] : [])
    expect(never).not.toContain(DISK_FAILED)
  })
})

test('the codes with which it ends stand in the guide', () => {
  const codes = [...read('kept-by-others.md').matchAll(/^\| (\d+) +\|/gm)].map(([, code]) => Number(code))
  expect(codes).toEqual([0, 1, DISK_FAILED, ANOTHER_WRITES])
})

describe('the container file', () => {
  const file = read('Containerfile').replaceAll(/\\\n\s*/g, '')
  const copied = [...file.matchAll(/^COPY (?!--from)(.+) \S+$/gm)].flatMap(([, paths = '']) => paths.split(' '))

  test('copies what is there, and all that the build is made of', async () => {
    expect(copied.length).toBeGreaterThan(8)
    for (const path of copied) expect(existsSync(join(root, path)), path).toBe(true)
    const ready = read('ready.mjs')
    const [, list = ''] = /const SOURCES = \[(.+)\]/.exec(ready) ?? []
    const sources = [...list.matchAll(/'([^']+)'/g)].map(([, path]) => path)
    expect(sources.length).toBeGreaterThan(5)
    expect(copied).toEqual(expect.arrayContaining(sources))
  })

  test('takes from the build what the program reads when it runs', () => {
    const taken = [...file.matchAll(/^COPY --from=build (.+) \S+$/gm)].flatMap(([, paths = '']) =>
      paths.split(' ').map((path) => path.replace('/opt/tagstrip/', '')),
    )
    expect(taken.sort()).toEqual(['.next', 'db/migrations', 'dist', 'next.config.ts', 'node_modules', 'package.json', 'public'])
  })

  test('runs what the commands of the project run, as nobody in particular', () => {
    const { scripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { scripts: Record<string, string> }
    const [, command = ''] = /^CMD (\[.+\])$/m.exec(file) ?? []
    const [node, program] = JSON.parse(command) as string[]
    expect(node).toBe('node')
    expect(scripts.start).toMatch(new RegExp(` ${program}$`))
    for (const other of ['standby', 'relay']) {
      expect(file).toContain(`\`node dist/${other}.mjs\``)
      expect(scripts[other]).toMatch(new RegExp(` dist/${other}\\.mjs$`))
    }
    expect([...file.matchAll(/npm run (\w+)/g)].map(([, script]) => script)).toEqual(['build'])
    expect(scripts).toHaveProperty('build')
    expect(file).toMatch(/^USER (?!root)\w+$/m)
    for (const [, image = ''] of file.matchAll(/^FROM (\S+)/gm)) expect(image).toMatch(/^[a-z]+:[\w.-]+$/)
    const env = namesIn(/^ENV (.+)$/m.exec(file)?.[1] ?? '').filter((setting) => setting !== 'NODE_ENV')
    for (const setting of env) expect(SETTINGS).toHaveProperty(setting ?? '')
  })

  test('asks itself at an address that answers', () => {
    const [, check = ''] = /^HEALTHCHECK .*CMD (\[.+\])$/m.exec(file) ?? []
    const [, , script = ''] = JSON.parse(check) as string[]
    expect(script).toContain("'/api/health'")
    expect(() => new Function(script)).not.toThrow()
  })
})

/** Everything that is watched, by the key and the name under which the code has it. */
function watchedInCode() {
  const server = join(root, 'server')
  const files = readdirSync(server, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts'))
  return files.flatMap((file) =>
    [...readFileSync(join(server, file), 'utf8').matchAll(/key: '([a-z-]+)',\s+name: '([^']+)',\s+unit: '(\w+)'/g)].map(
      ([, key = '', name = '', unit = '']) => ({
        key,
        name,
        figure: `tagstrip_${key.replaceAll('-', '_')}${unit === 'count' ? '' : `_${unit}`}`,
      }),
    ),
  )
}

test('everything that is watched stands in the guide’s table, with what to do, and nothing else', () => {
  const rows = [...read('kept-by-others.md').matchAll(/^\| (.+?) +\| `(tagstrip_\w+)` *\| (.+?) +\| (.+?) +\|$/gm)]
  const watched = watchedInCode()
  expect(rows.map(([, name, figure]) => ({ name, figure })).sort(byFigure)).toEqual(
    watched.map(({ name, figure }) => ({ name, figure })).sort(byFigure),
  )
  const stage = openStage()
  const open = stage.house.vitals.list().map(({ key }) => key)
  stage.close()
  expect(open.length).toBeGreaterThan(8)
  expect(watched.map(({ key }) => key)).toEqual(expect.arrayContaining(open))
})

const byFigure = (a: { figure: string | undefined }, b: { figure: string | undefined }) => (a.figure ?? '').localeCompare(b.figure ?? '')

test('the guide leads to files that are there', () => {
  const links = [...read('kept-by-others.md').matchAll(/\]\(([^)]+)\)/g)].map(([, path = '']) => path)
  expect(links.length).toBeGreaterThan(4)
  for (const path of links) expect(existsSync(join(programs, path)), path).toBe(true)
  expect(readFileSync(join(root, 'README.md'), 'utf8')).toContain('(server/house/programs/kept-by-others.md)')
})
