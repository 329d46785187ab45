import { expect, test, vi } from 'vitest'

/** A label with these words, set by papers that were just loaded or have set others before. */
async function setBy({ setPaper }: typeof import('#doors/papers/papers'), words: string): Promise<string> {
  const { labelsOrder } = await import('#stock/shelf/labels-paper')
  const labels = [{ code: 'https://longbench.example/x', tag: 'P-1', lines: [words] }]
  const at = Date.parse('2027-03-13T12:00:00Z')
  const paper = await setPaper(labelsOrder({ paper: 'a4', size: 'piece', labels, title: 'Labels', author: 'Long Bench', at }))
  return Buffer.from(paper).toString('latin1')
}

async function freshPapers() {
  vi.resetModules()
  return import('#doors/papers/papers')
}

test('fonts are read once for all papers, and a paper is the same whatever was set before it', async () => {
  // Under an accent the i has no dot, which is a letter of its own in Turkish: one glyph, and only the paper's own map says what was written.
  const [one, other] = ['\u0131', 'i\u0301'] as const
  const alone = await setBy(await freshPapers(), other)
  const papers = await freshPapers()
  const before = await setBy(papers, one)
  expect(before).not.toBe(alone)
  expect(await setBy(papers, other)).toBe(alone)
  expect(await setBy(papers, one)).toBe(before)
})
