// What a change can have broken: the tests that reach a changed file by imports, and the journeys that used what hangs on it.
import { spawnSync } from 'node:child_process'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'esbuild'

/** Whatever opens the whole house imports all of it through these: what hangs on a file only by them is not asked for. */
const WHOLE_HOUSE = /^(server\/(house|doors)|seed)\//
/** These look at the whole tree by reading files, so no import leads to them. */
const ALWAYS = ['test/shape']
/** Who changes these may have broken anything. */
const EVERYTHING =
  /^(package(-lock)?\.json|tsconfig\.json|test\/(vitest\.config\.ts|run\.mjs|stage\.ts)|db\/.*|server\/(kernel|runtime|house|doors)\/.*|next\.config\.ts)$/

/** The files that differ from `base`, or from the commit before where nothing does. */
export function changedFiles(base) {
  const git = (...asked) => {
    const { status, stdout, stderr } = spawnSync('git', asked, { encoding: 'utf8' })
    if (status !== 0) throw new Error(`git says: ${stderr.trim()}`)
    return stdout.split('\n').filter(Boolean)
  }
  const own = git('ls-files', '--others', '--exclude-standard')
  const differ = [...git('diff', '--name-only', base ?? 'HEAD'), ...own]
  return differ.length > 0 || base ? differ : git('diff', '--name-only', 'HEAD~1')
}

/** Which tests and journeys to run for these files; null where it is all of them. */
export async function brokenBy(files) {
  if (files.some((file) => EVERYTHING.test(file))) return null
  const importedBy = await importers()
  const touched = new Set(files)
  for (const file of touched) for (const above of importedBy.get(file) ?? []) if (!WHOLE_HOUSE.test(above)) touched.add(above)
  const rooms = new Set(files.map(roomOf).filter(Boolean))
  const tests = allBelow('test').filter((file) => /\.test\.tsx?$/.test(file) && (touched.has(file) || rooms.has(roomOfTest(file))))
  return { tests: [...ALWAYS, ...tests], journeys: journeysOf(touched) }
}

const roomOf = (file) => /^server\/([^/]+\/[^/]+)\//.exec(file)?.[1]
const roomOfTest = (file) => /^test\/([^/]+\/[^/]+)\//.exec(file)?.[1]

const allBelow = (folder) =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`
    return entry.isDirectory() ? allBelow(path) : [path]
  })

/** Who imports each file, by name. The bundler finds it in a second; types are for the compiler, which reads everything anyway. */
async function importers() {
  const sources = (folder) => allBelow(folder).filter((file) => /(?<!\.d)\.tsx?$/.test(file) && !file.includes('/planted/'))
  const { metafile } = await build({
    // One bundle of everything: one for each file would hold the house many hundred times.
    stdin: {
      contents: ['app', 'server', 'seed', 'test']
        .flatMap(sources)
        .map((file) => `import ${JSON.stringify(`./${file}`)}`)
        .join('\n'),
      resolveDir: '.',
    },
    outfile: 'nowhere.js',
    bundle: true,
    write: false,
    metafile: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    logLevel: 'silent',
    loader: { '.css': 'empty' },
  })
  const importedBy = new Map()
  for (const [file, { imports }] of Object.entries(metafile.inputs))
    for (const { path } of imports) importedBy.set(path, [...(importedBy.get(path) ?? []), file])
  return importedBy
}

/** The journeys that opened a page or called a procedure which hangs on one of these files. All of them where none has been noted yet. */
function journeysOf(touched) {
  const specs = allBelow('test/journeys').filter((file) => file.endsWith('.spec.ts'))
  const routers = new Set([...touched].filter((file) => file.endsWith('.router.ts')))
  const addresses = [...touched].some((file) => /\.(address|live)\.ts$/.test(file))
  const names = namesOf(routers)
  const pages = [...touched].filter((file) => /^app\/.*\/(page|layout|route)\.tsx?$|^app\/(page|layout)\.tsx$/.test(file)).map(patternOf)
  if (names.size + pages.length === 0 && !addresses) return specs.filter((file) => touched.has(file))
  return specs.filter((file) => {
    const note = join(process.env.REACHED_BY_JOURNEYS ?? '', `${file.split('/').at(-1)}.json`)
    if (touched.has(file) || !existsSync(note)) return true
    const { paths, procedures } = JSON.parse(readFileSync(note, 'utf8'))
    return procedures.some((name) => names.has(name.split('.')[0])) || paths.some((path) => pages.some((pattern) => pattern.test(path)))
  })
}

/** The names under which the root router holds these routers. */
function namesOf(routers) {
  const root = readFileSync('server/doors/trpc/root.ts', 'utf8')
  const names = new Set()
  for (const [, variable, from] of root.matchAll(/^import \{ (\w+) \} from '#([^']+)'$/gm))
    if (routers.has(`server/${from}.ts`))
      for (const [, name] of root.matchAll(new RegExp(`^  (\\w+): ${variable},$`, 'gm'))) names.add(name)
  return names
}

/** The addresses that a page of the tree answers. */
function patternOf(file) {
  const parts = file
    .split('/')
    .slice(1, -1)
    .filter((part) => !/^\(.*\)$/.test(part))
  const path = parts
    .map((part) => (/^\[\.\.\./.test(part) ? '.*' : /^\[/.test(part) ? '[^/]+' : part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')))
    .join('/')
  const isLayout = /layout\.tsx$/.test(file)
  return new RegExp(`^/${path}${isLayout ? '(/|$)' : '$'}`)
}
