import { join } from 'node:path'
import { build } from 'esbuild'
import { expect, test } from 'vitest'

const ROOT = join(import.meta.dirname, '..', '..', '..')

test('the house’s program loads no package of NATS until it connects to one', async () => {
  const { metafile } = await build({
    entryPoints: [join(ROOT, 'server', 'house', 'programs', 'main.ts')],
    bundle: true,
    write: false,
    metafile: true,
    outdir: 'nowhere',
    packages: 'external',
    platform: 'node',
    format: 'esm',
    logLevel: 'silent',
  })
  const taken = Object.values(metafile.outputs)
    .flatMap(({ imports }) => imports)
    .filter(({ path }) => path.startsWith('@nats-io/'))
  expect(taken.length).toBeGreaterThan(0)
  expect(taken.filter(({ kind }) => kind !== 'dynamic-import')).toEqual([])
})
