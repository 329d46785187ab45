import type { $ZodType } from 'zod/v4/core'

// Reads the shapes of what procedures take: which texts they hold, how large they may become, and values that fit.

type Def = { type: string } & Record<string, unknown>
interface Check {
  check: string
  maximum?: number
  abort?: boolean
}

const defOf = (shape: $ZodType): Def => shape._zod.def as unknown as Def
const checksOf = (shape: $ZodType): Check[] =>
  ((defOf(shape).checks as { _zod: { def: Check } }[] | undefined) ?? []).map((check) => check._zod.def)
const inner = (def: Def, name: string): $ZodType => def[name] as $ZodType

/** The wrappers through which a value goes unchanged to what checks it first. */
const WRAPPERS = new Set(['optional', 'nullable', 'default', 'prefault', 'readonly', 'catch', 'nonoptional'])

export interface Part {
  /** `rows.0.zone`; `*` stands for a name in a record. */
  path: string
  shape: $ZodType
}

/** Every primitive that a shape takes, where it stands. Of a union all that it may be. */
export function partsOf(shape: $ZodType, path: readonly string[] = []): Part[] {
  const def = defOf(shape)
  if (WRAPPERS.has(def.type)) return partsOf(inner(def, 'innerType'), path)
  if (def.type === 'pipe') return partsOf(inner(def, 'in'), path)
  if (def.type === 'object')
    return Object.entries(def.shape as Record<string, $ZodType>).flatMap(([name, one]) => partsOf(one, [...path, name]))
  if (def.type === 'array') return partsOf(inner(def, 'element'), [...path, '0'])
  if (def.type === 'record') return [...partsOf(inner(def, 'keyType'), [...path, '*']), ...partsOf(inner(def, 'valueType'), [...path, '*'])]
  if (def.type === 'union') return (def.options as $ZodType[]).flatMap((one) => partsOf(one, path))
  return [{ path: path.join('.'), shape }]
}

/** What is wrong with a text's shape: it is searched or changed before it is known how long it is. Null when nothing is. */
export function lengthIsFirst({ shape }: Part): string | null {
  const { type } = defOf(shape)
  if (type === 'enum' || type === 'literal' || type === 'boolean' || type === 'number' || type === 'null' || type === 'undefined')
    return null
  if (type !== 'string') return `is a ${type}, which takes anything`
  const [first] = checksOf(shape)
  if (!first) return 'has no length at all'
  return first.check === 'max_length' && first.abort ? null : `is asked for ${first.check} before its length`
}

/** Arrays and records that take any number. */
export function boundlessOf(shape: $ZodType, path: readonly string[] = []): string[] {
  const def = defOf(shape)
  if (WRAPPERS.has(def.type)) return boundlessOf(inner(def, 'innerType'), path)
  if (def.type === 'pipe') return boundlessOf(inner(def, 'in'), path)
  if (def.type === 'object')
    return Object.entries(def.shape as Record<string, $ZodType>).flatMap(([name, one]) => boundlessOf(one, [...path, name]))
  if (def.type === 'union') return (def.options as $ZodType[]).flatMap((one) => boundlessOf(one, path))
  if (def.type === 'array') {
    const isBound = checksOf(shape).some(({ check }) => check === 'max_length')
    return [...(isBound ? [] : [path.join('.')]), ...boundlessOf(inner(def, 'element'), [...path, '0'])]
  }
  return []
}

/** The most characters or lines that a shape takes. */
export const mostOf = (shape: $ZodType): number => {
  const bounds = checksOf(shape).flatMap(({ check, maximum }) => (check === 'max_length' ? [maximum ?? 0] : []))
  return bounds.length > 0 ? Math.min(...bounds) : Number.POSITIVE_INFINITY
}

/** From this length on a text is prose, whose letters may take three bytes each; what is shorter is counted as it is mostly written. */
const PROSE = 1000
const isProse = (shape: $ZodType) => mostOf(shape) >= PROSE && !checksOf(shape).some(({ check }) => check === 'string_format')

/** How many bytes of JSON the largest value that fits may have. */
export function mostBytes(shape: $ZodType): number {
  const def = defOf(shape)
  if (WRAPPERS.has(def.type)) return mostBytes(inner(def, 'innerType'))
  if (def.type === 'pipe') return mostBytes(inner(def, 'in'))
  if (def.type === 'object')
    return (
      Object.entries(def.shape as Record<string, $ZodType>)
        // A list comes as a file or as text, never as both.
        .filter(([name]) => name !== 'base64')
        .reduce((sum, [name, one]) => sum + name.length + 4 + mostBytes(one), 2)
    )
  if (def.type === 'array') return 2 + mostOf(shape) * (mostBytes(inner(def, 'element')) + 1)
  if (def.type === 'union') return Math.max(...(def.options as $ZodType[]).map(mostBytes))
  if (def.type === 'string') return 2 + mostOf(shape) * (isProse(shape) ? 3 : 1)
  if (def.type === 'enum') return Math.max(...Object.keys(def.entries as object).map((entry) => entry.length)) + 2
  return 20
}

/** What may stand in a field, by its name, or by its room and name (`designs.id`), which goes before: rows that the house has. */
export type Hints = Readonly<Record<string, readonly unknown[]>>

/** Texts of every kind that forms ask for: of these the ones that fit a field are written into it. */
const TYPED = [
  'Said in a few plain words.',
  '12',
  '210.00',
  '2027-03-13',
  '19:40',
  '19:58:30',
  '2027-03-13T19:40',
  'GB',
  'Europe/London',
  'TERN-01',
  'R1',
  'ada@workshop.example',
  '',
  'a'.repeat(64),
  'a-key-of-a-form-0001',
  '123456',
  '0x1ba02093',
  'https://elsewhere.example/lots/1',
  '+44 20 7946 0000',
  'saltmarsh-sr3',
  'TERN',
  'TS-2027-0147-M',
  '50',
  '300',
  '2, 4, 7',
  '2000',
] as const

type Chance = () => number
const oneOf = <T>(all: readonly T[], chance: Chance): T | undefined => all[Math.floor(chance() * all.length)]
const fits = (shape: $ZodType, value: unknown): boolean => {
  try {
    return (shape as unknown as { safeParse(value: unknown): { success: boolean } }).safeParse(value).success
  } catch {
    return false
  }
}

let keys = 0

/** A value that a shape takes, for a procedure of this room, chosen by `chance`; undefined where none of what is known fits. */
export function valueFor(shape: $ZodType, room: string, hints: Hints, chance: Chance, name = ''): unknown {
  const def = defOf(shape)
  const of = (one: $ZodType, called = name) => valueFor(one, room, hints, chance, called)
  const known = (hints[`${room}.${name}`] ?? hints[name] ?? []).filter((value) => fits(shape, value))
  if (known.length > 0 && chance() < 0.9) return oneOf(known, chance)
  if (def.type === 'optional' || def.type === 'default' || def.type === 'prefault')
    return chance() < 0.3 ? undefined : of(inner(def, 'innerType'))
  if (def.type === 'nullable') return chance() < 0.2 ? null : of(inner(def, 'innerType'))
  if (WRAPPERS.has(def.type)) return of(inner(def, 'innerType'))
  if (def.type === 'object') return objectFor(shape, of)
  if (def.type === 'array') {
    const many = Math.max(1, Math.ceil(chance() * Math.min(3, mostOf(shape))))
    return Array.from({ length: many }, () => of(inner(def, 'element'), name.replace(/s$/, '')))
  }
  if (def.type === 'record') return { [String(of(inner(def, 'keyType'), '') ?? 'a')]: of(inner(def, 'valueType'), '') }
  if (def.type === 'union' && 'discriminator' in def) return of(oneOf(def.options as $ZodType[], chance) as $ZodType)
  if (def.type === 'union') {
    const options = (def.options as $ZodType[]).map((one) => of(one)).filter((value) => fits(shape, value))
    return oneOf(options, chance)
  }
  if (def.type === 'literal') return oneOf(def.values as unknown[], chance)
  if (def.type === 'enum') return oneOf(Object.values(def.entries as Record<string, unknown>), chance)
  if (def.type === 'boolean') return chance() < 0.5
  if (name === 'key') {
    const made = `odd-inputs-key-${String(++keys).padStart(8, '0')}`
    if (fits(shape, made)) return made
  }
  const numbers = [1, 2, 3, 0, 30, 100, 2000].filter((value) => fits(shape, value))
  return oneOf<unknown>([...numbers, ...TYPED.filter((value) => fits(shape, value))], chance)
}

/** Tried some times over, since what fits each field need not fit together. */
function objectFor(shape: $ZodType, of: (one: $ZodType, called: string) => unknown): unknown {
  const fields = Object.entries(defOf(shape).shape as Record<string, $ZodType>)
  let made: Record<string, unknown> = {}
  for (let tries = 0; tries < 12; tries++) {
    made = {}
    for (const [field, one] of fields) {
      const value = of(one, field)
      if (value !== undefined) made[field] = value
    }
    // The tag that was seen on the machine is mostly the one that is meant.
    if ('seen' in made && 'tag' in made) made.seen = made.tag
    if (fits(shape, made)) break
  }
  return made
}

/** The ways to every primitive, every list and every object in a value. */
export function waysInto(value: unknown, way: readonly (string | number)[] = []): (string | number)[][] {
  if (typeof value !== 'object' || value === null) return [[...way]]
  const entries: [string | number, unknown][] = Array.isArray(value) ? [...value.entries()] : Object.entries(value)
  return [[...way], ...entries.flatMap(([name, one]) => waysInto(one, [...way, name]))]
}

/** The same value with another thing at one place. */
export function withAt(value: unknown, way: readonly (string | number)[], put: unknown): unknown {
  const [first, ...rest] = way
  if (first === undefined) return put
  if (Array.isArray(value)) return value.map((one, index) => (index === first ? withAt(one, rest, put) : one))
  const object = value as Record<string, unknown>
  return { ...object, [first]: withAt(object[first], rest, put) }
}
