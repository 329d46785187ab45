import { DAY, type Instant } from '#kernel/instant'
import type { PartKind } from '#stock/catalogue/part.contract'
import { type BatchInRun, timesLikelier } from './batch-evidence.rules'
import { learnt } from './learn.rules'

/** The chance that one piece of a kind is what is wrong in a fresh build. Common practice, no source: only their ratios matter. */
export const PIECE_RATES: Record<PartKind, number> = {
  resistor: 0.001,
  capacitor: 0.003,
  inductor: 0.004,
  crystal: 0.005,
  diode: 0.003,
  transistor: 0.005,
  chip: 0.01,
  display: 0.01,
  connector: 0.004,
  switch: 0.004,
  fuse: 0.002,
  transformer: 0.006,
  board: 0.01,
  case: 0.0005,
  other: 0.003,
}

/** A joint made within a day of the fault comes before any part; one that has held for longer hardly counts. Common practice, no source. */
export const JOINT_TODAY = 0.02
export const JOINT_BEFORE = 0.001

/** What a block is suspected for beside its parts: wires, the board under it, a setting. */
export const BARE_BLOCK = 0.002

/** A piece of a quarantined batch is so many times likelier. Common practice, no source. */
const SUSPECT_TIMES = 10

/** The rate of its kind weighs as much as so many pieces of a batch that were looked at. */
const KIND_WEIGHS = 50

/** The rate as assumed weighs as much as so many pieces of the kind that were ever fitted. */
const ASSUMED_WEIGHS = 500

export interface PieceFacts {
  designator: string
  blocks: readonly string[]
  kind: PartKind
  isSoldered: boolean
  at: Instant
  batch: { code: string; bad: number; fitted: number; isSuspect: boolean }
  /** What the run knows of its batch: the check that fails here as well, and the units with and without the batch. */
  inRun?: (BatchInRun & { check: string }) | undefined
  /** Of its kind, at this bench: ever fitted, and found to be the cause of a fault. */
  ofKind?: { fitted: number; bad: number }
}

export interface IronFacts {
  blocks: readonly string[]
  at: Instant
}

export interface PriorFacts {
  blocks: readonly string[]
  /** What is fitted now. */
  pieces: readonly PieceFacts[]
  /** Reworks in which an iron was used without a piece being changed. */
  irons: readonly IronFacts[]
  /** When the fault came up. */
  foundAt: Instant
}

export interface Prior {
  shares: Map<string, number>
  /** Per block what makes it more suspect than its parts list alone would, in words. */
  reasons: Map<string, string[]>
  /** Per piece how suspect it is by itself, and whether its joint is the likelier cause. */
  pieces: { designator: string; blocks: readonly string[]; weight: number; isJoint: boolean; batch: string; history: string[] }[]
}

/**
 * How suspect each block is before any check is weighed: over its pieces, the rate of the kind as its batch has taught
 * it (the mean of a Beta distribution), ten times that if the batch is suspect, and the joint, which comes first while
 * it is a day old. A piece that serves two blocks counts half for each.
 */
export function priorOf({ blocks, pieces, irons, foundAt }: PriorFacts): Prior {
  const weights = new Map(blocks.map((block) => [block, BARE_BLOCK]))
  const reasons = new Map<string, string[]>()
  // A joint that was made after the fault was found did not cause it.
  const isToday = (at: Instant) => at > foundAt - DAY && at <= foundAt
  for (const block of blocks) {
    const own = pieces.filter((piece) => piece.blocks.includes(block))
    for (const piece of own) add(block, (rateOf(piece) + jointOf(piece)) / piece.blocks.length)
    const touched = irons.filter((iron) => iron.blocks.includes(block) && isToday(iron.at))
    if (touched.length > 0) add(block, JOINT_TODAY)
    reasons.set(block, [...jointWords(own, touched.length), ...batchWords(own)])
  }
  const total = [...weights.values()].reduce((sum, weight) => sum + weight, 0)
  return {
    shares: new Map([...weights].map(([block, weight]) => [block, weight / total])),
    reasons,
    pieces: pieces.map((piece) => {
      const [bad, joint] = [rateOf(piece), jointOf(piece)]
      return {
        designator: piece.designator,
        blocks: piece.blocks,
        weight: bad + joint,
        isJoint: joint > bad,
        batch: piece.batch.code,
        history: historyOf(piece),
      }
    }),
  }

  function add(block: string, weight: number): void {
    weights.set(block, (weights.get(block) ?? 0) + weight)
  }

  function jointOf({ isSoldered, at }: PieceFacts): number {
    if (!isSoldered) return 0
    return isToday(at) ? JOINT_TODAY : JOINT_BEFORE
  }

  function jointWords(own: readonly PieceFacts[], touched: number): string[] {
    const fresh = own.filter(({ isSoldered, at }) => isSoldered && isToday(at)).length + touched
    return fresh === 0 ? [] : [`${fresh === 1 ? 'a joint' : `${fresh} joints`} made in the day before`]
  }
}

/** The rate of the kind, sharpened by every piece of it fitted here, then by what the batch has shown: (w·rate + bad) ÷ (w + bad + good); times what the run shows of it. */
function rateOf({ kind, batch, inRun, ofKind = { fitted: 0, bad: 0 } }: PieceFacts): number {
  const ofThisBench = learnt(PIECE_RATES[kind], ASSUMED_WEIGHS, ofKind.bad, Math.max(0, ofKind.fitted - ofKind.bad))
  const rate = learnt(ofThisBench, KIND_WEIGHS, batch.bad, batch.fitted)
  const times = (batch.isSuspect ? SUSPECT_TIMES : 1) * (inRun ? timesLikelier(inRun) : 1)
  return Math.min(1, rate * times)
}

/** "batch B-0078 is in 2 of 2 units that fail C12 and in none of 3 that pass". */
function inRunWords(code: string, { check, failedWith, passedWith, failedWithout, passedWithout }: BatchInRun & { check: string }): string {
  const passed = passedWith + passedWithout
  const good = passedWith === 0 ? `none of ${passed}` : `${passedWith} of ${passed}`
  return `batch ${code} is in ${failedWith} of ${failedWith + failedWithout} units that fail ${check} and in ${good} that pass`
}

/** What is known of a piece's batch and of its joint, in words. */
function historyOf(piece: PieceFacts): string[] {
  const { bad, fitted, isSuspect } = piece.batch
  return [
    `${bad} bad of ${bad + fitted} that were looked at or fitted`,
    ...batchWords([piece]).filter((words) => isSuspect || words.startsWith('batch')),
  ]
}

function batchWords(own: readonly PieceFacts[]): string[] {
  const batches = new Map(own.map((piece) => [piece.batch.code, piece]))
  return [...batches.values()].flatMap(({ batch: { code, bad, isSuspect }, inRun }) => [
    ...(isSuspect ? [`pieces of ${code}, which is in quarantine`] : []),
    ...(bad > 0 && !isSuspect ? [`${bad} of batch ${code} ${bad === 1 ? 'was' : 'were'} bad`] : []),
    ...(inRun && timesLikelier(inRun) > 1 ? [inRunWords(code, inRun)] : []),
  ])
}
