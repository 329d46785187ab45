import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { analyse } from 'scslre'
import ts from 'typescript'
import { expect, test, vi } from 'vitest'
import { readValue } from '#stock/catalogue/value.rules'

const root = join(import.meta.dirname, '..', '..')

/** Patterns made while the house runs, and why each is linear whatever it is made of. */
const MADE_LATER: Record<string, string> = {
  'server/runtime/call/address.ts': 'its parameters take what stands between two signs that they cannot take themselves',
  'server/end/deletion/contact-data.rules.ts': 'a choice of plain texts, with nothing that repeats',
}

/** Files whose made patterns are not linear, and what keeps every text that they read short. */
const SHORT_TEXTS: Record<string, string> = {
  'server/stock/catalogue/value.rules.ts': 'a value of more than 40 characters is refused before it is read',
  'server/sale/planning/solver-log.rules.ts': "they read the lines of the solver's own log, which nobody writes",
}

interface Found {
  file: string
  pattern: string
}

function sourcesIn(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(ts|tsx|mjs|js)$/.test(name))
    .map((name) => join(folder, name))
}

/** Every pattern that is written out in a source, and the places where one is made of parts. */
function patternsIn(file: string): { written: Found[]; made: number } {
  const kind = /x$/.test(file) ? ts.ScriptKind.TSX : ts.ScriptKind.TS
  const source = ts.createSourceFile(file, readFileSync(join(root, file), 'utf8'), ts.ScriptTarget.Latest, true, kind)
  const written: Found[] = []
  let made = 0
  const visit = (node: ts.Node) => {
    if (node.kind === ts.SyntaxKind.RegularExpressionLiteral) written.push({ file, pattern: node.getText(source) })
    const isMade = (ts.isNewExpression(node) || ts.isCallExpression(node)) && node.expression.getText(source) === 'RegExp'
    if (isMade) made += 1
    ts.forEachChild(node, visit)
  }
  visit(source)
  return { written, made }
}

/** Why a pattern may read a text more often than once; null when it reads each text in time that grows with its length alone. */
function whySlow(pattern: string): string | null {
  const end = pattern.lastIndexOf('/')
  const { reports } = analyse({ source: pattern.slice(1, end), flags: pattern.slice(end + 1) })
  return reports.length === 0 ? null : reports.map(({ type, exponential }) => (exponential ? `${type}, exponential` : type)).join(', ')
}

const files = ['app', 'server', 'db', 'seed', 'public'].flatMap(sourcesIn)
const all = files.map((file) => ({ file, ...patternsIn(file) }))

test('the one who judges knows a slow pattern, quadratic or worse, from a linear one', () => {
  expect(whySlow('/^(a+)+$/')).toContain('exponential')
  expect(whySlow(String.raw`/\s+$/`)).toBe('Move')
  expect(whySlow(String.raw`/^[^@]+@[^@]+\.[^@]+$/`)).toBe('Trade')
  expect(whySlow('/^[^@]+@[^@.]+$/')).toBeNull()
})

test('every pattern that is written in the program is linear', () => {
  const written = all.flatMap((each) => each.written)
  expect(written.length).toBeGreaterThan(250)
  const slow = written.map(({ file, pattern }) => ({ file, pattern, why: whySlow(pattern) })).filter(({ why }) => why !== null)
  expect(slow).toEqual([])
})

test('so is every one that is made of parts', async () => {
  const makers = all.filter(({ file, made }) => made > 0 && !(file in MADE_LATER))
  const wanted = makers.reduce((sum, { made }) => sum + made, 0)
  const made = new Map<string, string>()
  let reading = ''
  const Native = globalThis.RegExp
  const recording = new Proxy(Native, {
    construct(target, [source, flags]: [string | RegExp, string?]) {
      const one = new target(source, flags)
      made.set(String(one), reading)
      return one
    },
  })
  vi.stubGlobal('RegExp', recording)
  try {
    for (const { file } of makers) {
      reading = file
      // Read anew by a name of its own: files beside this one share what they have loaded, and keep it.
      await import(`${join(root, file)}?read-anew`)
    }
  } finally {
    vi.unstubAllGlobals()
  }
  // Each of these is made when its file is read; one that is made in a function would be missing here.
  expect(made.size).toBeGreaterThanOrEqual(wanted)
  const slow = [...made].map(([pattern, file]) => ({ file, pattern, why: whySlow(pattern) })).filter(({ why }) => why !== null)
  expect([...new Set(slow.map(({ file }) => file))].sort()).toEqual(Object.keys(SHORT_TEXTS).sort())
  expect(readValue(`1${' 1'.repeat(25)}`)).toMatchObject({ ok: false, words: expect.stringContaining('too long') })
  expect(Object.keys(MADE_LATER).filter((file) => !all.some((each) => each.file === file && each.made > 0))).toEqual([])
})
