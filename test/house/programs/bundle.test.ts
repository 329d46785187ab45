import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build, type Metafile } from 'esbuild'
import { expect, test } from 'vitest'

const root = join(import.meta.dirname, '..', '..', '..')
// Plain Node, as the build is.
const { BUNDLE } = await import(pathToFileURL(join(root, 'server', 'house', 'programs', 'bundle.mjs')).href)

test('a start reads one file, what is native and the log; what only some ask for is read when they do', async () => {
  const { metafile } = await build({
    ...BUNDLE,
    entryPoints: { server: BUNDLE.entryPoints.server },
    write: false,
    metafile: true,
    sourcemap: false,
  })
  const [server] = Object.values((metafile as Metafile).outputs).filter(({ entryPoint }) => entryPoint !== undefined)
  const outside = (kind: string) =>
    new Set(server?.imports.filter((one) => one.external && one.kind === kind && !/^node:/.test(one.path)).map(({ path }) => path))
  const packages = [...outside('import-statement')].filter((path) => !isOfNode(path)).sort()
  expect(packages).toEqual(['@resvg/resvg-wasm', 'better-sqlite3', 'bwip-js/node', 'highs', 'pino'])
  for (const later of ['next', 'sharp', 'prom-client']) expect(outside('dynamic-import')).toContain(later)
})

const isOfNode = (path: string): boolean => process.getBuiltinModule(path) !== undefined
