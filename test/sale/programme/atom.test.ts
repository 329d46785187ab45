import { SaxesParser } from 'saxes'
import { describe, expect, it } from 'vitest'
import { atomOf } from '#sale/programme/atom.rules'
import type { DayChange, DayChanges } from '#sale/programme/changes.contract'

const AT = Date.parse('2027-03-13T20:40:00Z')
const change = (more: Partial<DayChange> = {}): DayChange => ({
  id: 7,
  at: AT,
  kind: 'moved',
  title: 'Lot 7: Saltmarsh receiver',
  lot: 7,
  from: AT,
  to: AT + 900_000,
  shiftMs: null,
  hammerMinor: null,
  why: 'Ines is late.',
  ...more,
})
const day = (...changes: DayChange[]): DayChanges => ({ name: 'Long Bench Day', zone: 'Europe/London', currency: 'GBP', changes })
const HEAD = 'bench.example/lots/7\n5\nAAAA\n\n— bench.example BBBB\n'
const written = (...changes: DayChange[]) =>
  atomOf(day(...changes), { publicUrl: 'https://bench.example', startedAt: AT, year: 2027, headOf: (lot) => (lot === 7 ? HEAD : null) })

const ATOM = 'http://www.w3.org/2005/Atom'
interface Element {
  name: string
  attributes: Record<string, string>
  text: string
  children: Element[]
}

/** Read by a strict XML parser with namespaces: what is not well formed throws. */
function read(text: string): Element {
  const parser = new SaxesParser({ xmlns: true })
  const root: Element = { name: '', attributes: {}, text: '', children: [] }
  const open = [root]
  parser.on('error', (fault) => {
    throw fault
  })
  parser.on('opentag', ({ local, uri, attributes }) => {
    expect(uri).toBe(ATOM)
    const element = {
      name: local,
      attributes: Object.fromEntries(Object.entries(attributes).map(([key, { value }]) => [key, value])),
      text: '',
      children: [],
    }
    open.at(-1)?.children.push(element)
    open.push(element)
  })
  parser.on('text', (words) => {
    const element = open.at(-1)
    if (element) element.text += words
  })
  parser.on('closetag', () => open.pop())
  parser.write(text).close()
  const [feed] = root.children
  if (!feed) throw new Error('nothing in it')
  return feed
}

const count = (element: Element, name: string) => element.children.filter((child) => child.name === name).length
const textOf = (element: Element, name: string) => element.children.find((child) => child.name === name)?.text ?? ''
/** RFC 3339 with seconds and a zone, as RFC 4287 section 3.3 asks for. */
const DATE = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/

/** What RFC 4287 demands, clause by clause; the sentences that are not kept. */
function faultsOf(feed: Element): string[] {
  const faults: string[] = []
  const must = (isKept: boolean, clause: string) => {
    if (!isKept) faults.push(clause)
  }
  must(feed.name === 'feed', '4.1.1 the document is a feed')
  const entries = feed.children.filter(({ name }) => name === 'entry')
  for (const element of [feed, ...entries]) {
    const where = element.name === 'feed' ? '4.1.1' : '4.1.2'
    for (const name of ['id', 'title', 'updated']) must(count(element, name) === 1, `${where} exactly one ${name}`)
    must(count(element, 'published') <= 1 && count(element, 'content') <= 1, `${where} at most one published, one content`)
    must(DATE.test(textOf(element, 'updated')), '3.3 a date is one of RFC 3339')
    must(URL.canParse(textOf(element, 'id')) && !/\s/.test(textOf(element, 'id')), '4.2.6 an id is an IRI')
    const links = element.children.filter(({ name }) => name === 'link')
    must(
      links.every(({ attributes }) => URL.canParse(attributes.href ?? '')),
      '4.2.7 a link has an href',
    )
    const alternates = links
      .filter(({ attributes }) => (attributes.rel ?? 'alternate') === 'alternate')
      .map(({ attributes }) => `${attributes.type} ${attributes.hreflang}`)
    must(new Set(alternates).size === alternates.length, `${where} no two alternates of the same type and language`)
  }
  must(count(feed, 'author') === 1 || entries.every((entry) => count(entry, 'author') > 0), '4.1.1 an author of the feed or of every entry')
  for (const author of feed.children.filter(({ name }) => name === 'author')) must(count(author, 'name') === 1, '3.2 a person has one name')
  must(
    feed.children.some(({ name, attributes }) => name === 'link' && attributes.rel === 'self'),
    '4.1.1 a feed should link to itself',
  )
  for (const entry of entries)
    must(
      count(entry, 'content') === 1 || entry.children.some(({ name, attributes }) => name === 'link' && attributes.rel === 'alternate'),
      '4.1.2 content or an alternate',
    )
  const order = feed.children.map(({ name }) => name)
  must(
    order.lastIndexOf('author') < (order.indexOf('entry') === -1 ? order.length : order.indexOf('entry')),
    '4.1.1 metadata before entries, as readers expect',
  )
  const ids = [feed, ...entries].map((element) => textOf(element, 'id'))
  must(new Set(ids).size === ids.length, '4.2.6 ids are unique')
  return faults
}

describe('the Atom feed', () => {
  it('keeps every demand of RFC 4287, with many entries and with none', () => {
    const kinds = ['announced', 'added', 'moved', 'ends', 'extended', 'removed', 'held', 'resumed', 'withdrawn', 'sold', 'unsold'] as const
    expect(faultsOf(read(written(...kinds.map((kind, id) => change({ kind, id })))))).toEqual([])
    expect(faultsOf(read(written()))).toEqual([])
  })

  it('the check itself finds what is missing', () => {
    const whole = written(change())
    const without = (piece: RegExp) => faultsOf(read(whole.replace(piece, '')))
    expect(without(/<author>.*<\/author>\n/)).toContain('4.1.1 an author of the feed or of every entry')
    expect(without(/<updated>.*<\/updated>\n/)).toContain('4.1.1 exactly one updated')
    expect(without(/<link rel="self".*\/>\n/)).toContain('4.1.1 a feed should link to itself')
    expect(faultsOf(read(whole.replaceAll(/change-\d+/g, 'programme')))).toContain('4.2.6 ids are unique')
    expect(() => read(whole.replace('</title>', ''))).toThrow()
  })

  it('says what changed, when and why', () => {
    const entry = read(written(change())).children.find(({ name }) => name === 'entry')
    expect(entry && [textOf(entry, 'title'), textOf(entry, 'content'), textOf(entry, 'updated')]).toEqual([
      'Lot 7: Saltmarsh receiver moves from Saturday 13 March, 20:40 to 20:55 (London).',
      'Lot 7: Saltmarsh receiver moves from Saturday 13 March, 20:40 to 20:55 (London).\nWhy: Ines is late.',
      '2027-03-13T20:40:00.000Z',
    ])
  })

  it('says of a guest who ends at another time until when, not from where to where', () => {
    const title = (more: Partial<DayChange>) => {
      const entry = read(written(change({ kind: 'ends', title: 'Ines', lot: null, ...more }))).children.find(({ name }) => name === 'entry')
      return entry && textOf(entry, 'title')
    }
    expect(title({})).toBe('Ines ends later: at 20:55 instead of 20:40 (London).')
    expect(title({ from: AT + 900_000, to: AT })).toBe('Ines ends sooner: at 20:40 instead of 20:55 (London).')
  })

  it('says by how much a closing moved that is still in the same minute', () => {
    const from = change().from ?? 0
    const said = (by: number) =>
      textOf(read(written(change({ kind: 'extended', to: from + by }))).children.find(({ name }) => name === 'entry') as never, 'title')
    expect(said(30_000)).toBe('Lot 7: Saltmarsh receiver closes 30 s later.')
    expect(said(90_000)).toBe('Lot 7: Saltmarsh receiver closes later: from Saturday 13 March, 20:40 to 20:41 (London).')
  })

  it('says the same of a hold of one lot, and of one that had time enough', () => {
    const from = change().from ?? 0
    const said = (kind: DayChange['kind'], by: number) =>
      textOf(read(written(change({ kind, to: from + by }))).children.find(({ name }) => name === 'entry') as never, 'title')
    expect(said('resumed', 6_000)).toBe('The clock of Lot 7: Saltmarsh receiver is running again; it closes 6 s later.')
    expect(said('resumed', 0)).toBe('The clock of Lot 7: Saltmarsh receiver is running again; it closes at its time.')
    expect(said('moved', 6_000)).toBe('Lot 7: Saltmarsh receiver moves 6 s later.')
  })

  it.each(['<script>&"', 'a\u0000b\u0008c', 'Ω 🔧 é', ']]>', '\uD800 half a letter'])('words such as %j stay well formed', (title) => {
    const entry = read(written(change({ title }))).children.find(({ name }) => name === 'entry')
    expect(entry && textOf(entry, 'title')).toContain('moves from')
  })

  it('the newest is the date of the feed', () => {
    expect(textOf(read(written(change({ at: AT + 5000 }), change({ id: 6 }))), 'updated')).toBe('2027-03-13T20:40:05.000Z')
  })
})

describe('the feed as a witness', () => {
  it.each(['sold', 'unsold', 'withdrawn'] as const)('has the signed head of a lot that is %s, letter for letter', (kind) => {
    expect(written(change({ kind, hammerMinor: 100 }))).toContain(`The signed head of its history:\n${HEAD}</content>`)
  })

  it('has none of a lot that goes on', () => {
    expect(written(change())).not.toContain('signed head')
  })
})
