import type { PartKind } from './part.contract'
import { type ComponentValue, showValue } from './value.rules'

// What makes two entries of the catalogue the same part: kind, value with its prefix, tolerance, technology or dielectric,
// package and rating, wherever in the entry each was written.

export interface Identity {
  kind: PartKind
  /** The value without its tolerance: "10 mΩ" is not "10 MΩ". */
  value: string
  tolerance: string
  /** What a name says beside its kind and its figures: "carbon film", "c0g". */
  technology: string
  package: string
  /** Power, voltage and current, each in its own unit: W 0.25. */
  ratings: Partial<Record<RatedUnit, number>>
  /** What else the rating says. */
  besides: string
  programmed: boolean
}

export type RatedUnit = 'W' | 'V' | 'A'

/** Identities that were made by this rule begin so; those from before it do not. */
const MADE_SO = '2'

export const keyOf = ({ kind, value, tolerance, technology, package: size, ratings, besides, programmed }: Identity): string =>
  [MADE_SO, kind, value, tolerance, technology, size, ratingWords(ratings), besides, programmed ? 'programmed' : '']
    .map((field) => field.replaceAll('|', ' '))
    .join('|')

/** Made when a part was known by its value, package and rating alone, whatever its name said and however its prefix was written. */
export const isFromBefore = (key: string): boolean => !key.startsWith(`${MADE_SO}|`)

const ratingWords = (ratings: Identity['ratings']): string =>
  Object.entries(ratings)
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([unit, amount]) => `${amount} ${unit}`)
    .join(' ')

export interface Written {
  kind: PartKind
  name: string
  package: string
  rating: string
  programmed: boolean
}

/** The identity of a part whose value is a measure; of any other its name and value are words, which tell parts apart as they stand. */
export function identityOf({ kind, name, package: size, rating, programmed }: Written, value: ComponentValue | string): Identity {
  const common = { kind, package: plain(size), programmed }
  if (typeof value === 'string') {
    return { ...common, value: plain(value), tolerance: '', technology: plain(name), ratings: {}, besides: plain(rating) }
  }
  const { tolerance, ...bare } = value
  const named = figuresIn(name)
  const rated = figuresIn(rating)
  return {
    ...common,
    value: showValue(bare),
    tolerance: tolerance?.words ?? rated.tolerance ?? named.tolerance ?? '',
    technology: [...new Set(named.rest.filter((word) => word !== kind && word !== `${kind}s`).map((word) => SAME_AS[word] ?? word))]
      .sort()
      .join(' '),
    ratings: { ...named.ratings, ...rated.ratings },
    besides: rated.rest.join(' '),
  }
}

/** Two names of one dielectric: NP0 by an older name, C0G in IEC 60384-21 and EIA-198 (from memory). */
const SAME_AS: Record<string, string> = { np0: 'c0g', npo: 'c0g', cog: 'c0g' }

const plain = (text: string) => text.normalize('NFKC').trim().toLowerCase().replaceAll(/\s+/g, ' ')

const FIGURE = /^±?(\d{1,6}(?:\.\d{1,4})?)(?:\/(\d{1,4}))?$/
const RATED = /^±?(\d{1,6}(?:\.\d{1,4})?)(?:\/(\d{1,4}))?(m|k)?(w|v|a|%)$/
const UNIT_ALONE = /^(?:[mk]?[wva]|%)$/

interface Figures {
  ratings: Identity['ratings']
  tolerance: string | undefined
  rest: string[]
}

/** "¼ W", "1/4W", "0.25 W", "250 mW" and "±5 %" out of a text, and the words that are left. */
function figuresIn(text: string): Figures {
  const words = plain(text)
    .replaceAll('⁄', '/')
    .replaceAll('+/-', '±')
    .replaceAll('± ', '±')
    .split(/[\s;()]+/)
    .map((word) =>
      FIGURE.test(word.replace(',', '.')) || RATED.test(word.replace(',', '.')) ? word.replace(',', '.') : word.replaceAll(',', ''),
    )
    .filter(Boolean)
  const found: Figures = { ratings: {}, tolerance: undefined, rest: [] }
  for (let at = 0; at < words.length; at++) {
    const word = words[at] ?? ''
    const next = words[at + 1] ?? ''
    const isApart = FIGURE.test(word) && UNIT_ALONE.test(next)
    const match = RATED.exec(isApart ? word + next : word)
    if (!match) {
      found.rest.push(word)
      continue
    }
    if (isApart) at += 1
    const [, figure = '', below, prefix, unit = ''] = match
    const amount = Number(figure) / Number(below ?? 1)
    if (unit === '%') found.tolerance = `±${Number(figure)} %`
    else
      found.ratings[unit.toUpperCase() as RatedUnit] = Number((amount * (prefix === 'm' ? 1e-3 : prefix === 'k' ? 1e3 : 1)).toPrecision(9))
  }
  return found
}

/**
 * Whether a part may stand in for another by its figures: the same value and package, rated for at least as much and no
 * less exact, of the same technology where that is asked for. In words, for whoever has to say yes; null where it may not.
 */
export function mayStandIn(wanted: Identity, other: Identity): string | null {
  if (wanted.programmed || other.programmed || wanted.kind !== other.kind) return null
  if (wanted.value !== other.value || wanted.package !== other.package) return null
  if (wanted.technology !== '' && wanted.technology !== other.technology) return null
  if (wanted.besides !== '' && wanted.besides !== other.besides) return null
  const said: string[] = []
  if (wanted.technology !== other.technology) said.push(`it is ${other.technology}, and the list names none`)
  for (const unit of ['W', 'V', 'A'] as const) {
    const [least, has] = [wanted.ratings[unit], other.ratings[unit]]
    if (least === has) continue
    // A fuse that lets more through guards less, and an unstated rating may be any.
    if (least !== undefined && (has === undefined || has < least || (wanted.kind === 'fuse' && unit === 'A'))) return null
    said.push(least === undefined ? `it is for ${has} ${unit}, and the list names none` : `${has} ${unit} for ${least} ${unit}`)
  }
  if (wanted.tolerance !== other.tolerance) {
    const [most, has] = [percentOf(wanted.tolerance), percentOf(other.tolerance)]
    if (wanted.tolerance !== '' && (most === null || has === null || has > most)) return null
    said.push(wanted.tolerance === '' ? `it is ${other.tolerance}, and the list names none` : `${other.tolerance} for ${wanted.tolerance}`)
  }
  return said.length > 0 ? said.join(', ') : null
}

function percentOf(words: string): number | null {
  const figure = /^±(\d{1,6}(?:\.\d{1,4})?) %$/.exec(words)?.[1]
  return figure === undefined ? null : Number(figure)
}
