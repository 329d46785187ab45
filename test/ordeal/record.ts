/** What the client asked under a key, and whether it was told that it was done. */
export interface Entry {
  key: string
  isAnswered: boolean
}

/** Something that stands in the house, and under which key it was asked for; null where nobody's key leads to it. */
export interface Standing {
  key: string | null
  words: string
}

export interface Fault {
  kind: 'lost' | 'doubled' | 'not asked'
  words: string
}

/**
 * Holds the client's record against what stands in the house: what was answered stands there once, what was asked and not
 * answered stands there once or not at all, and nothing else stands there.
 */
export function judge(record: readonly Entry[], house: readonly Standing[]): Fault[] {
  const asked = new Set(record.map(({ key }) => key))
  const times = new Map<string, number>()
  const faults: Fault[] = []
  for (const { key, words } of house) {
    if (key === null || !asked.has(key)) faults.push({ kind: 'not asked', words: `${words} stands there, and nobody asked for it` })
    else times.set(key, (times.get(key) ?? 0) + 1)
  }
  for (const { key, isAnswered } of record) {
    const count = times.get(key) ?? 0
    if (isAnswered && count === 0) faults.push({ kind: 'lost', words: `${key} was acknowledged and does not stand there` })
    if (count > 1) faults.push({ kind: 'doubled', words: `${key} stands there ${count} times` })
  }
  return faults
}

/** A record that is written to a file as it grows, so that it does not depend on anything that is killed. */
export function openRecord(write: (line: object) => void) {
  const entries = new Map<string, Entry>()
  return {
    ask(key: string, what: object) {
      if (!entries.has(key)) entries.set(key, { key, isAnswered: false })
      write({ ask: key, ...what })
    },
    answered(key: string) {
      const entry = entries.get(key)
      if (!entry) throw new Error(`${key} was never asked`)
      entry.isAnswered = true
      write({ answered: key })
    },
    entries: () => [...entries.values()],
    open: () => [...entries.values()].filter(({ isAnswered }) => !isAnswered).map(({ key }) => key),
  }
}
