import type { Check, StageKind } from './design.contract'

/** What a stage is to the order of the work, said for people. */
export const STAGE_KIND_WORDS: Record<StageKind, string> = {
  visual: 'looking, power off',
  cold: 'measuring cold, before any power',
  rails: 'the supplies, first thing under power',
  'close-out': 'closing the record',
  other: 'anything else',
}

/** What is known of a check before its stage has a kind. */
export type Staged = Pick<Check, 'stage' | 'kind' | 'unit' | 'isHold' | 'isPowered' | 'seq'>

/** By the English name of a stage, as it was always read. */
export function kindByName(stage: string): StageKind {
  const name = stage.trim().toLowerCase()
  if (name === 'visual' || name === 'cold') return name
  if (/^rails?$/.test(name)) return 'rails'
  return /^close[- ]?out$/.test(name) ? 'close-out' : 'other'
}

/** Power waits for what is measured cold, and for a hold point of which a meter decides. */
export const gatesByKind = (kind: StageKind, { isHold, kind: how }: Pick<Check, 'isHold' | 'kind'>): boolean =>
  kind === 'cold' || (isHold && how === 'measure')

/**
 * What kind each stage of a checklist is, where its column does not say: by the name, and where no stage has a name that is
 * known, by what its checks are. A list in another language has no known name: what is measured without power before the
 * first power is cold; looked at, visual; the first voltages under power, held, rails; answered last, after any soak, close-out.
 */
export function kindsOfStages(checks: readonly Staged[]): Map<string, StageKind> {
  const stages = [...new Set(checks.map(({ stage }) => stage))]
  const kinds = new Map(stages.map((stage) => [stage, kindByName(stage)]))
  const known = new Set(kinds.values())
  for (const stage of stages) {
    if (kinds.get(stage) !== 'other') continue
    const shape = kindByShape(checks, stage)
    if (!known.has(shape)) kinds.set(stage, shape)
  }
  return kinds
}

function kindByShape(checks: readonly Staged[], stage: string): StageKind {
  const own = checks.filter((check) => check.stage === stage)
  const first = own[0]
  if (!first) return 'other'
  const powered = checks.find(({ isPowered }) => isPowered)
  const soak = checks.findLast(({ kind }) => kind === 'soak')
  if (powered && own.every(({ isPowered, seq }) => !isPowered && seq < powered.seq)) {
    return own.some(({ kind, unit }) => kind === 'measure' && /Ω$/.test(unit)) ? 'cold' : 'visual'
  }
  if (own.some(({ isPowered, isHold, kind, unit }) => isPowered && isHold && kind === 'measure' && /^[mk]?V$/.test(unit))) return 'rails'
  if (soak && own.every(({ seq, kind }) => seq > soak.seq && kind === 'yesno')) return 'close-out'
  return 'other'
}

/** "cold: measuring cold, before any power; K1, K2 gate power": how an import took each stage, in the order of the list. */
export function stagesTaken(checks: readonly Check[]): string[] {
  const taken = [...new Set(checks.map(({ stage }) => stage))].flatMap((stage) => {
    const own = checks.filter((check) => check.stage === stage)
    return [...new Set(own.map(({ stageKind }) => stageKind))].map((kind) => {
      const gates = own.filter((check) => check.stageKind === kind && check.gatesPower).map(({ key }) => key)
      const then = gates.length === 0 ? '' : `; power waits for ${gates.join(', ')}`
      return `“${stage}” is taken as ${kind}: ${STAGE_KIND_WORDS[kind]}${then}.`
    })
  })
  const powered = checks.find(({ isPowered }) => isPowered)
  const isBare = powered !== undefined && !checks.some(({ gatesPower, seq }) => gatesPower && seq < powered.seq)
  return isBare
    ? [
        `Nothing gates power: ${powered.key} puts power on, and no check before it must have passed. Mark those in a column “gates power”.`,
        ...taken,
      ]
    : taken
}

/** A check as it counts for a design's digest: what says no more than was always understood by the stage's name is left out. */
export function saidBeyondNames(check: Check): object {
  const { stageKind, gatesPower, fourEyes, frequency, ...rest } = check
  const usual = kindByName(check.stage)
  return {
    ...rest,
    ...(stageKind === usual ? {} : { stageKind }),
    ...(gatesPower === gatesByKind(usual, check) ? {} : { gatesPower }),
    ...(fourEyes ? { fourEyes } : {}),
    ...(frequency === null ? {} : { frequency }),
  }
}
