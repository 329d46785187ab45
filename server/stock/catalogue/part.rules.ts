import { type Identity, identityOf, keyOf, mayStandIn } from './identity.rules'
import type { PartIn, PartKind } from './part.contract'
import { seriesHint } from './series.rules'
import { readValue, showValue, type ValueUnit } from './value.rules'

/** What the value of each kind of part measures. A chip or a case has none: its value is free words. */
const KIND_UNIT: Partial<Record<PartKind, ValueUnit>> = { resistor: 'Ω', capacitor: 'F', inductor: 'H', crystal: 'Hz', fuse: 'A' }

export const unitOfKind = (kind: PartKind): ValueUnit | undefined => KIND_UNIT[kind]

/** Parts of these kinds are worth telling apart, so each gets a tag of its own; so does whatever is programmed. */
export const hasPieces = (part: { kind: PartKind; programmed: boolean }): boolean =>
  part.programmed || part.kind === 'board' || part.kind === 'case'

export type PartReading =
  | { ok: true; value: string; identity: Identity; sameness: string; hint?: string }
  | { ok: false; field: 'value' | 'name'; words: string }

/** Reads a catalogue entry: the value in its one form, and what makes two entries the same part. */
export function readPart(part: PartIn): PartReading {
  const unit = unitOfKind(part.kind)
  const written = part.value?.trim() ?? ''
  const { kind, name, package: size = '', rating = '', programmed = false } = part
  const known = { kind, name, package: size, rating, programmed }
  if (written === '' || unit === undefined) {
    const identity = identityOf(known, written)
    return { ok: true, value: written, identity, sameness: keyOf(identity) }
  }
  const reading = readValue(written, unit)
  if (!reading.ok) return { ok: false, field: 'value', words: reading.words }
  const value = showValue(reading.value)
  const hint = seriesHint(reading.value) ?? reading.note
  const identity = identityOf(known, reading.value)
  return { ok: true, value, identity, sameness: keyOf(identity), ...(hint ? { hint } : {}) }
}

/** Whether one entry may stand in for another by its figures, in words for whoever has to say yes; null where it may not. */
export function standsIn(wanted: PartIn, other: PartIn): string | null {
  const [one, two] = [readPart(wanted), readPart(other)]
  return one.ok && two.ok ? mayStandIn(one.identity, two.identity) : null
}

/** "4.7 kΩ resistor, 0805, 0.25 W", "Logic device PLD-22, DIP-24": how a part is named in a sentence, with all that tells it from others. */
export function partWords(part: { kind: PartKind; name: string; value: string; package: string; rating: string }): string {
  const named = unitOfKind(part.kind) !== undefined && part.value !== '' && part.name.toLowerCase() === part.kind
  const words = named ? `${part.value} ${part.kind}` : [part.name, part.value].filter(Boolean).join(' ')
  return [words, part.package, part.rating].filter(Boolean).join(', ')
}
