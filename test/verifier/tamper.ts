import type { History } from '#sale/history/history.contract'

/** A small generator of its own, so that every run sees the same values (Mulberry32, public domain). */
export function chanceFrom(seed: number): (below: number) => number {
  let state = seed
  return (below) => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return Math.floor((((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32) * below)
  }
}

type Node = Record<string, unknown> | unknown[]
type Place = { parent: Node; name: string | number }

function placesIn(node: unknown, found: Place[] = []): Place[] {
  if (typeof node !== 'object' || node === null) return found
  for (const [name, value] of Object.entries(node)) {
    found.push({ parent: node as Node, name: Array.isArray(node) ? Number(name) : name })
    placesIn(value, found)
  }
  return found
}

const letters = 'abcdefghijklmnopqrstuvwxyz0123456789ABCDEF+/=-:. '

function otherThan(value: unknown, chance: (below: number) => number): unknown {
  if (typeof value === 'number') return chance(2) === 0 ? value + 1 + chance(500) : -value - 1
  if (typeof value === 'boolean') return !value
  if (value === null) return chance(2) === 0 ? 1 : 'x'
  if (typeof value !== 'string') return null
  const at = chance(value.length + 1)
  const letter = letters[chance(letters.length)] ?? 'a'
  const changed = [
    () => `${value.slice(0, at)}${letter}${value.slice(at + 1)}`,
    () => `${value.slice(0, at)}${value.slice(at + 1)}`,
    () => `${value.slice(0, at)}${letter}${value.slice(at)}`,
  ]
  return changed[chance(3)]?.()
}

/** What was done to a copy of a history, in words, and the copy: one thing changed, left out, put in, moved or said twice. */
export function tamperWith(history: History, chance: (below: number) => number): { words: string; history: unknown } {
  const before = JSON.stringify(history)
  for (;;) {
    const copy = JSON.parse(before) as History
    const places = placesIn(copy)
    const place = places[chance(places.length)]
    if (!place) continue
    const { parent, name } = place
    const slots = parent as Record<string | number, unknown>
    const list = Array.isArray(parent) ? parent : null
    const kind = chance(6)
    if (kind < 3) slots[name] = otherThan(slots[name], chance)
    else if (kind === 3 && list) list.splice(Number(name), 1)
    else if (kind === 3) delete slots[name]
    else if (kind === 4 && list) list.splice(chance(list.length + 1), 0, JSON.parse(JSON.stringify(slots[name])))
    else if (kind === 4) slots[`${name}x`] = slots[name]
    else if (list) {
      const [one] = list.splice(Number(name), 1)
      list.splice(chance(list.length + 1), 0, one)
    }
    if (JSON.stringify(copy) !== before)
      return { words: `${['changed', 'changed', 'changed', 'left out', 'put in', 'moved'][kind]} ${name}`, history: copy }
  }
}
