/** A family of samples in an exposition. */
export interface Family {
  type: string
  help: string
  samples: { labels: Record<string, string>; value: number }[]
}

const NAME = '[a-zA-Z_:][a-zA-Z0-9_:]*'
const LABEL = '[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\\\\n]|\\\\["\\\\n])*"'
const NUMBER = '[+-]?(?:\\d+\\.?\\d*|\\.\\d+)(?:[eE][+-]?\\d+)?|[+-]?Inf|NaN'
const DESCRIPTOR = new RegExp(`^# (HELP|TYPE|UNIT) (${NAME}) (.*)$`)
const SAMPLE = new RegExp(`^(${NAME})(?:\\{(${LABEL}(?:,${LABEL})*)?\\})? (${NUMBER})$`)

const plain = (escaped: string): string => escaped.replaceAll(/\\(.)/g, (_all, sign: string) => (sign === 'n' ? '\n' : sign))

/**
 * Reads gauges in the text format of OpenMetrics 1.0, by its grammar (section "ABNF") and its rules on families: descriptors in
 * front of samples, families not interleaved, no sample twice, no blank line, `# EOF` at the end. Throws at whatever breaks one.
 */
export function readExposition(text: string): Map<string, Family> {
  if (!text.endsWith('# EOF\n')) throw new Error('it does not end in # EOF and a line feed')
  const families = new Map<string, Family>()
  const seen = new Set<string>()
  const said = new Set<string>()
  let current = ''
  for (const line of text.slice(0, -'# EOF\n'.length).split('\n').slice(0, -1)) {
    const descriptor = DESCRIPTOR.exec(line)
    if (descriptor) {
      const [, kind = '', name = '', words = ''] = descriptor
      if (said.has(`${kind} ${name}`)) throw new Error(`${kind} of ${name} is said twice`)
      said.add(`${kind} ${name}`)
      if (name !== current && families.has(name)) throw new Error(`${name} is interleaved with another family`)
      current = name
      const family = families.get(name) ?? { type: 'unknown', help: '', samples: [] }
      if (family.samples.length > 0) throw new Error(`${kind} of ${name} stands behind its samples`)
      if (kind === 'TYPE') family.type = words
      if (kind === 'HELP') family.help = plain(words)
      if (kind === 'UNIT' && !name.endsWith(`_${words}`)) throw new Error(`${name} does not end in its unit`)
      families.set(name, family)
      continue
    }
    const sample = SAMPLE.exec(line)
    if (!sample) throw new Error(`this is neither a descriptor nor a sample: ${line}`)
    const [, name = '', labels = '', value = ''] = sample
    if (name !== current) throw new Error(`${name} belongs to no family that was said before it`)
    const key = `${name}{${labels}}`
    if (seen.has(key)) throw new Error(`${key} stands there twice`)
    seen.add(key)
    const pairs = [...labels.matchAll(/([a-zA-Z0-9_]+)="((?:[^"\\]|\\.)*)"/g)].map(([, label = '', of = '']) => [label, plain(of)])
    families.get(name)?.samples.push({ labels: Object.fromEntries(pairs), value: Number(value.replace('Inf', 'Infinity')) })
  }
  return families
}
