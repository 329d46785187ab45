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
  | { ok: true; value: string; sameness: string; hint?: string }
  | { ok: false; field: 'value' | 'name'; words: string }

/** Reads a catalogue entry: the value in its one form, and what makes two entries the same part. */
export function readPart(part: PartIn): PartReading {
  const unit = unitOfKind(part.kind)
  const written = part.value?.trim() ?? ''
  if (written === '' || unit === undefined) return { ok: true, value: written, sameness: samenessOf(part, written) }
  const reading = readValue(written, unit)
  if (!reading.ok) return { ok: false, field: 'value', words: reading.words }
  const value = showValue(reading.value)
  const hint = seriesHint(reading.value) ?? reading.note
  return { ok: true, value, sameness: samenessOf(part, value), ...(hint ? { hint } : {}) }
}

/** Where a value was given the name says little ("Resistor", "resistor 1/4 W"), so it does not tell two parts apart. */
function samenessOf(part: PartIn, value: string): string {
  const measured = unitOfKind(part.kind) !== undefined && value !== ''
  const fields = [part.kind, measured ? '' : part.name, value, part.package ?? '', part.rating ?? '', part.programmed ? 'programmed' : '']
  return fields.map((field) => field.normalize('NFKC').trim().toLowerCase().replaceAll(/\s+/g, ' ')).join('|')
}

/** "4.7 kΩ resistor, 0805", "Logic device PLD-22, DIP-24": how a part is named in a sentence. */
export function partWords(part: { kind: PartKind; name: string; value: string; package: string }): string {
  const named = unitOfKind(part.kind) !== undefined && part.value !== '' && part.name.toLowerCase() === part.kind
  const words = named ? `${part.value} ${part.kind}` : [part.name, part.value].filter(Boolean).join(' ')
  return part.package === '' ? words : `${words}, ${part.package}`
}
