/**
 * JSON of which every reader makes the same. `JSON.parse` takes the last of two members with one name and rounds what it cannot
 * hold, so that one file could say one thing here and another elsewhere. Here a name stands once in an object, a number is spelt
 * as RFC 8785 spells it (not 1.0, 1e2 or -0) and is exact, and text is whole Unicode: I-JSON (RFC 7493), and numbers canonical.
 */
export class JsonFault extends Error {
  override name = 'JsonFault'
  constructor(
    words: string,
    /** The character at which the text stops to be such JSON, from 0. */
    readonly at: number,
  ) {
    super(words)
  }
}

const MOST_DEPTH = 200
const NUMBER = /-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?/y
const SPACE = /[ \t\n\r]*/y
/** The bounds of a text; what may stand in it is JSON.parse's to say. */
const STRING = /"[^"\\]*(?:\\.[^"\\]*)*"/y
const LITERALS = [
  ['true', true],
  ['false', false],
  ['null', null],
] as const

/** Reads a whole text; throws a `JsonFault` in words that say where and what. */
export function readStrictJson(text: string): unknown {
  const reader = new Reader(text)
  const value = reader.value(0)
  reader.end()
  return value
}

class Reader {
  private at = 0
  constructor(private readonly text: string) {}

  value(depth: number): unknown {
    this.skip(SPACE)
    const first = this.text[this.at]
    if (depth > MOST_DEPTH) throw this.fault('It is nested deeper than anything the house writes')
    if (first === '{') return this.object(depth)
    if (first === '[') return this.list(depth)
    if (first === '"') return this.string()
    const literal = LITERALS.find(([word]) => this.text.startsWith(word, this.at))
    if (!literal) return this.number()
    this.at += literal[0].length
    return literal[1]
  }

  end(): void {
    this.skip(SPACE)
    if (this.at < this.text.length) throw this.fault('There is something after its end')
  }

  private object(depth: number): Record<string, unknown> {
    const members = new Map<string, unknown>()
    this.at += 1
    for (let isFirst = true; !this.takes('}'); isFirst = false) {
      if (!isFirst) this.must(',')
      this.skip(SPACE)
      const place = this.at
      const name = this.string()
      // Assigning to this name would change an object instead of adding to it; no house writes it.
      if (members.has(name) || name === '__proto__')
        throw this.fault(members.has(name) ? `The name “${name}” stands twice in one object` : `No house writes the name “${name}”`, place)
      this.must(':')
      members.set(name, this.value(depth + 1))
    }
    return Object.fromEntries(members)
  }

  private list(depth: number): unknown[] {
    const entries: unknown[] = []
    this.at += 1
    for (let isFirst = true; !this.takes(']'); isFirst = false) {
      if (!isFirst) this.must(',')
      entries.push(this.value(depth + 1))
    }
    return entries
  }

  private string(): string {
    const place = this.at
    const spelt = this.skip(STRING)
    const text = spelt === '' ? null : unescaped(spelt)
    if (text === null) throw this.fault('It is not JSON', place)
    if (/\p{Surrogate}/u.test(text)) throw this.fault('A text in it is half a character', place)
    return text
  }

  private number(): number {
    const place = this.at
    const spelt = this.skip(NUMBER)
    const value = Number(spelt)
    if (spelt === '') throw this.fault('It is not JSON')
    if (String(value) !== spelt) throw this.fault(`The number ${spelt.slice(0, 40)} is not spelt in the one way that is allowed`, place)
    if (Number.isInteger(value) && !Number.isSafeInteger(value))
      throw this.fault(`The number ${spelt} is too great to be exact in every program`, place)
    return value
  }

  private takes(mark: string): boolean {
    this.skip(SPACE)
    if (this.text[this.at] !== mark) return false
    this.at += 1
    return true
  }

  private must(mark: string): void {
    if (!this.takes(mark)) throw this.fault('It is not JSON')
  }

  private skip(pattern: RegExp): string {
    pattern.lastIndex = this.at
    const found = pattern.exec(this.text)?.[0] ?? ''
    this.at += found.length
    return found
  }

  private fault(words: string, at = this.at): JsonFault {
    return new JsonFault(`${words}, at character ${at + 1}.`, at)
  }
}

function unescaped(spelt: string): string | null {
  try {
    return JSON.parse(spelt)
  } catch {
    // A control character, or an escape that there is not.
    return null
  }
}
