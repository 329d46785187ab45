import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import reference from './asvs.json'

const root = join(import.meta.dirname, '..', '..')
const page = readFileSync(join(root, 'public', 'security.md'), 'utf8')
const lines = page.split('\n').flatMap((line) => {
  const [, id, words] = /^- \*\*(V[\d.]+)\*\* (.+)$/.exec(line) ?? []
  return id && words ? [{ id, words }] : []
})
const testsIn = (words: string): string[] => [...words.matchAll(/`(test\/[^`]+)`/g)].map(([, path]) => path ?? '')

/** How a line begins that names no test, with the reason after it. */
const WITHOUT = /^(Does not apply|Not held|Not held whole|Not held by the house|Held without a test): .{12}/

describe('ASVS 5.0, levels 1 and 2', () => {
  it('has as many requirements as the standard', () => {
    expect([reference.rows[1].length, reference.rows[2].length]).toEqual([70, 183])
  })

  it('each requirement has one line, and no other has', () => {
    expect(lines.map(({ id }) => id).sort()).toEqual([...reference.rows[1], ...reference.rows[2]].sort())
  })

  it('each line names the tests that hold it, or says that none does, and why', () => {
    const bare = lines.filter(({ words }) => testsIn(words).length === 0 && !WITHOUT.test(words))
    expect(bare).toEqual([])
  })
})

describe('the twelve promises', () => {
  const rows = page
    .slice(page.indexOf('| promise'), page.indexOf('## Who is trusted'))
    .split('\n')
    .slice(2)
    .filter((line) => line.startsWith('|'))

  it('are twelve, each with its test', () => {
    expect(rows).toHaveLength(12)
    expect(rows.filter((row) => testsIn(row).length === 0)).toEqual([])
  })

  it('name commands that there are', () => {
    const { scripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { scripts: Record<string, string> }
    for (const [, name] of rows.join().matchAll(/npm run ([\w-]+)/g)) expect(scripts).toHaveProperty([name ?? ''])
  })
})

it.each([...new Set(testsIn(page))])('%s is there', (path) => {
  expect(existsSync(join(root, path))).toBe(true)
})
