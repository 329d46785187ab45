import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { build } from 'esbuild'

const ROOT = join(import.meta.dirname, '..', '..')

/** What a source looks for beside itself is looked for where it stood, not where the bundle is. */
const WHERE_IT_STOOD = {
  name: 'where it stood',
  setup({ onLoad }) {
    onLoad({ filter: /\/test\/.*\.ts$/ }, ({ path }) => ({
      contents: readFileSync(path, 'utf8').replaceAll('import.meta.dirname', JSON.stringify(dirname(path))),
      loader: 'ts',
    }))
  },
}

/** Bundles one program of the ordeal into dist/ and answers where it is. */
export async function bundleOf(name) {
  const outfile = join(ROOT, 'dist', `ordeal-${name}.mjs`)
  await build({
    entryPoints: [join(import.meta.dirname, `${name}.ts`)],
    outfile,
    bundle: true,
    packages: 'external',
    platform: 'node',
    target: 'node20',
    format: 'esm',
    sourcemap: true,
    logLevel: 'warning',
    plugins: [WHERE_IT_STOOD],
  })
  return outfile
}
