import type { PartIn, PartKind } from './part.contract'
import { partWords, readPart, unitOfKind } from './part.rules'
import { readValue, type ValueUnit } from './value.rules'
import { valueApart } from './value-apart.rules'

/** What an entry of the catalogue says, as far as people name a part by it. */
export interface CatalogueEntry {
  id: string
  words: string
  kind: PartKind
  name: string
  value: string
  package: string
  rating: string
}

export interface Meant {
  /** Entries that may be meant, the likeliest first. */
  known: { id: string; words: string }[]
  /** What would be a new entry, and its words; null where an entry says just that, or nothing was understood. */
  fresh: { part: PartIn; words: string } | null
}

const KIND_WORDS: readonly [PartKind, RegExp][] = [
  ['resistor', /^(?:resistors?|widerst[aä]nde?|r[eé]sistances?)$/i],
  ['capacitor', /^(?:capacitors?|caps?|elkos?|electrolytics?|kondensator(?:en)?|condensateurs?)$/i],
  ['inductor', /^(?:inductors?|coils?|chokes?|spulen?|drosseln?|ferrites?)$/i],
  ['crystal', /^(?:crystals?|xtals?|quartz|quarze?|oscillators?)$/i],
  ['fuse', /^(?:fuses?|sicherung(?:en)?)$/i],
  ['diode', /^(?:diodes?|dioden?|leds?|zeners?)$/i],
  ['transistor', /^(?:transistors?|transistoren|mosfets?|fets?)$/i],
  ['chip', /^(?:chips?|ics?|regulators?|opamps?)$/i],
  ['connector', /^(?:connectors?|sockets?|headers?|plugs?|jacks?|stecker|buchsen?)$/i],
  ['switch', /^(?:switch(?:es)?|buttons?|relays?|schalter|taster)$/i],
  ['display', /^(?:displays?|lcds?|anzeigen?)$/i],
  ['transformer', /^(?:transformers?|trafos?)$/i],
  ['board', /^(?:boards?|pcbs?|platinen?)$/i],
  ['case', /^(?:cases?|enclosures?|geh[aä]use)$/i],
]

/** The kind that a word names, in the languages of those who fill shelves. */
export const kindNamed = (word: string): PartKind | undefined => KIND_WORDS.find(([, pattern]) => pattern.test(word.trim()))?.[0]

export const KIND_OF_UNIT: Partial<Record<ValueUnit, PartKind>> = { Ω: 'resistor', F: 'capacitor', H: 'inductor', Hz: 'crystal' }
const MOST = 3

/**
 * What part is meant by words on a bag: "100n", "0,1uF" and "104" are one, "20x 4k7 1/4W" is a resistor. It proposes,
 * and a person says which; nothing becomes stock by it.
 */
export function partsMeant(typed: string, catalogue: readonly CatalogueEntry[]): Meant {
  const text = withoutCount(typed.normalize('NFKC').trim())
  const words = text.split(/\s+/).filter((word) => word !== '')
  if (words.length === 0 || text.length > 200) return { known: [], fresh: null }
  const named = words.flatMap((word) => KIND_WORDS.filter(([, pattern]) => pattern.test(word)).map(([kind]) => kind))[0]
  const measured = words.filter((word) => !KIND_WORDS.some(([, pattern]) => pattern.test(word)))
  const kind = named ?? kindByMeasure(measured)
  if (kind !== undefined && unitOfKind(kind) !== undefined) {
    const part = asPart(kind, measured)
    if (part) return byMeasure(part, catalogue)
  }
  return byWords(text, named, catalogue)
}

/** A count before the words is how many there are, and no part of what they are. */
const withoutCount = (text: string) => text.replace(/^(?:ca\.?|about|~)? ?\d{1,6} ?(?:x|×|pcs\.?|pieces|stk\.?) ?/i, '')

/** The kind whose value stands among the words: by its unit, by its mark, or as a code of three figures, which capacitors carry. */
function kindByMeasure(words: readonly string[]): PartKind | undefined {
  for (let from = 0; from < words.length; from++) {
    for (const text of [words.slice(from, from + 2).join(' '), words[from] ?? '']) {
      const reading = /\d/.test(text) ? readValue(text) : null
      const kind = reading?.ok ? KIND_OF_UNIT[reading.value.unit] : undefined
      if (kind !== undefined) return kind
    }
  }
  return words.some((word) => /^[1-9]\d[0-7][A-Z]?$/.test(word)) ? 'capacitor' : undefined
}

/** As much of the words as can be said of such a part; the rest stays in the words of the gift. */
function asPart(kind: PartKind, words: readonly string[]): PartIn | null {
  const whole = valueApart({ kind, name: kind, value: words.join(' ') })
  if (whole.ok && whole.part.value !== '') return whole.part
  for (let from = 0; from < words.length; from++) {
    for (const length of [3, 2, 1]) {
      const value = words.slice(from, from + length).join(' ')
      const some = /\d/.test(value) ? valueApart({ kind, name: kind, value }) : null
      if (some?.ok) return some.part
    }
  }
  return null
}

function byMeasure(part: PartIn, catalogue: readonly CatalogueEntry[]): Meant {
  const own = readPart(part)
  if (!own.ok) return { known: [], fresh: null }
  const meant = catalogue.flatMap((entry) => {
    if (entry.kind !== part.kind) return []
    const other = readPart({ ...entry, programmed: false })
    if (!other.ok || other.identity.value !== own.identity.value) return []
    const [said, has] = [own.identity, other.identity]
    if (said.package !== '' && has.package !== '' && said.package !== has.package) return []
    if (said.technology !== '' && has.technology !== '' && said.technology !== has.technology) return []
    const agrees =
      Number(said.package === has.package) + Number(said.technology === has.technology) + Number(said.tolerance === has.tolerance)
    return [{ id: entry.id, words: entry.words, agrees, isSame: other.sameness === own.sameness }]
  })
  meant.sort((one, other) => Number(other.isSame) - Number(one.isSame) || other.agrees - one.agrees)
  const fresh = meant.some(({ isSame }) => isSame) ? null : { part, words: wordsOfPart(part) }
  return { known: meant.slice(0, MOST).map(({ id, words }) => ({ id, words })), fresh }
}

const wordsOfPart = ({ kind, name, value = '', package: size = '', rating = '' }: PartIn) =>
  partWords({ kind, name, value, package: size, rating })

/** By the words alone: an entry that has them all, in any order. */
function byWords(text: string, named: PartKind | undefined, catalogue: readonly CatalogueEntry[]): Meant {
  const asked = plain(text)
    .split(' ')
    .filter((word) => word.length > 1)
  if (asked.length === 0) return { known: [], fresh: null }
  const found = catalogue.filter(({ words }) => {
    const own = plain(words).split(' ')
    return asked.every((word) => own.some((each) => each.startsWith(word)))
  })
  const isNamed = found.some(({ words }) => plain(words) === plain(text))
  const part: PartIn = { kind: named ?? 'other', name: text.slice(0, 120) }
  return {
    known: found.slice(0, MOST).map(({ id, words }) => ({ id, words })),
    fresh: isNamed || named === undefined ? null : { part, words: `${part.name} (${part.kind})` },
  }
}

const plain = (text: string): string =>
  text
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}.]+/gu, ' ')
    .trim()
