import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { formKey, sha256In, text } from '#kernel/text'
import type { Feed } from '../designs/design.contract'
import type { Placed } from '../designs/placement.rules'
import type { Ranked } from './rank.rules'
import type { Posterior } from './suspects.rules'

/** What a fault turned out to be. `none`: nothing was wrong with the machine, only with the reading. */
export const CAUSES = ['part', 'joint', 'setting', 'program', 'none'] as const
export type Cause = (typeof CAUSES)[number]

export const CAUSE_WORDS: Record<Cause, string> = {
  part: 'A part was bad, wrong, or the wrong way round',
  joint: 'A joint, a bridge or a wire',
  setting: 'A setting or an adjustment',
  program: 'A program or an image',
  none: 'Nothing was wrong: the reading was',
}

const key = formKey()
const tag = text(20, 'A tag is short, such as TERN-03.').min(1, 'Write the tag of the unit, such as TERN-03.')
const block = text(60, 'That is not the name of a block.')

export const openFaultIn = z.strictObject({
  key,
  tag,
  symptom: text(300, 'Keep the symptom under 300 characters.').min(1, 'Say what it does, or does not do.'),
})

export const closeFaultIn = z.strictObject({
  key,
  tag,
  cause: z.enum(CAUSES, 'Choose what it was.'),
  block: block.default(''),
  designator: text(12, 'That is not a designator.').toUpperCase().default(''),
  changed: text(500, 'Keep it under 500 characters.').min(1, 'Say what was changed, as it should read on the record.'),
  minutes: text(20, 'Write how many minutes it took in all, as a whole number such as 45.').regex(
    /^\d{1,5}$/,
    'Write how many minutes it took in all, as a whole number such as 45.',
  ),
})

/** It was no fault: the reading had been mistyped, and is right now. */
export const withdrawFaultIn = z.strictObject({ key, tag })

const place = text(60, 'Keep the place under 60 characters.')
export const observeIn = z.strictObject({
  key,
  tag,
  place: place.min(1, 'Say where, such as U2 pin 1.'),
  /** Empty for the block of the position or the test point that the place names. */
  block: block.default(''),
  found: text(200, 'Keep it under 200 characters.').min(1, 'Say what is to be seen there, such as 1.0 V.'),
  isGood: z.boolean('Say whether that is as it should be.'),
  isPowered: z.boolean(),
})
export const pointIn = z.strictObject({
  tag,
  point: text(40, 'Keep the point under 40 characters.').min(1, 'Say where, such as U2 pin 8.'),
  block: block.default(''),
  expects: text(120, 'Keep it under 120 characters.').min(1, 'Say what is to be seen there, such as 9.0 V or 12 kΩ to ground.'),
})

/** A photograph of a design's board. */
export const boardIn = z.strictObject({
  designId: text(60).min(1),
  photograph: sha256In('Take a photograph of the board, or choose a picture.'),
})
export const addBoardIn = boardIn.extend({ words: text(80, 'Keep it under 80 characters.').default('') })

const mark = text(40, 'Choose what is pinned.').min(1, 'Choose what is pinned.')
const thousandths = z.int('Tap on the photograph.').min(0, 'Tap on the photograph.').max(1000, 'Tap on the photograph.')
export const pinIn = boardIn.extend({ mark, x: thousandths, y: thousandths })
export const unpinIn = boardIn.extend({ mark })

export const setCatchIn = z.strictObject({
  designId: text(60).min(1),
  check: text(12, 'That is not the key of a check.').min(1, 'Choose a check.'),
  block: block.min(1, 'Choose a block.'),
  /** In per cent; empty to go back to the usual. */
  percent: text(20, 'Write a whole percentage from 0 to 100, or leave it empty for the usual.').regex(
    /^(\d{1,2}|100|)$/,
    'Write a whole percentage from 0 to 100, or leave it empty for the usual.',
  ),
})

export const faultOfIn = z.strictObject({ tag })
export const runOfIn = z.strictObject({ prefix: text(8, 'There is no such run.').toUpperCase() })
export const designOfIn = z.strictObject({ designId: text(60) })

export interface FaultCard {
  id: string
  check: string | null
  symptom: string
  openedAt: Instant
  by: string
  closed: {
    at: Instant
    cause: Cause
    block: string | null
    designator: string | null
    changed: string
    minutes: number
  } | null
}

/** A fault as everybody may read of it. `cause` is null while it is open, and `none` where only the reading was wrong. */
export interface FaultFound {
  check: string | null
  foundAt: Instant
  closedAt: Instant | null
  cause: Cause | null
}

/** Where a design can be probed, and what is to be seen there. */
export interface Point {
  point: string
  block: string
  expects: string
}

/** A photograph of the board, and what is pinned on it: in thousandths of its width and height from the upper left. */
export interface BoardPhotograph {
  sha: string
  words: string
  width: number
  height: number
  pins: { mark: string; x: number; y: number }[]
}

export interface BoardPage {
  design: { id: string; name: string; revision: string }
  photographs: BoardPhotograph[]
  /** What can be pinned: test points and positions. */
  marks: string[]
}

/** What somebody saw; `counts` until a change could have touched it. */
export interface ObservationView {
  id: string
  at: Instant
  by: string
  place: string
  block: string
  found: string
  isGood: boolean
  counts: boolean
}

export interface Suspect {
  block: string
  share: number
  /** Before any check was weighed. */
  prior: number
  reasons: string[]
  /** Minutes to find and mend a fault here, and by how many closed faults that is known. */
  minutes: number
  closedHere: number
}

export interface Outcome {
  chance: number
  /** Who would be suspected most, then. */
  suspects: { block: string; share: number }[]
}

export interface Look extends Ranked {
  title: string
  stage: string
  isPowered: boolean
  limits: string
  caution: string
  /** Its other needs are not met: the reading would be marked as taken while searching. */
  isMarked: boolean
  failing: Outcome
  passing: Outcome
}

export interface SeenView {
  check: string
  title: string
  entry: string
  failed: boolean
  isWhileSearching: boolean
}

/** Everything that is known of a unit's fault, and where to look next. */
export interface SearchView {
  tag: string
  runPrefix: string
  design: { id: string; name: string; revision: string }
  setAside: string | null
  blocks: string[]
  feeds: Feed[]
  open: FaultCard | null
  /** What it is called now: by what fails now. */
  title: string
  /** Nothing fails now. */
  passesNow: boolean
  /** Its check passes now and nothing was changed: the first reading may have been a slip. */
  mayBeSlip: boolean
  /** The last change since it was opened, as its rework says. */
  change: { changed: string; blocks: string[]; designators: string[]; at: Instant } | null
  earlier: FaultCard[]
  faults: Posterior['faults']
  /** So many faults were closed that shares are worth two digits; order and odds in words until then. */
  hasFigures: boolean
  /** What the evidence comes to, in a sentence or two. */
  says: string[]
  suspects: Suspect[]
  /** Inside the most suspected block: its pieces, the likeliest first. */
  inside: {
    block: string
    pieces: { designator: string; part: string; why: string; batch: string; history: string[] }[]
    points: Point[]
    nextPoint: string | null
  }
  /** Where the parts sit on the board; empty where nobody has said. */
  board: Placed[]
  /** Photographs of the board on which something is pinned. */
  photographs: BoardPhotograph[]
  observations: ObservationView[]
  pairs: { blocks: readonly string[]; share: number }[]
  looks: Look[]
  seen: SeenView[]
  /** Checks of which several units of the run failed. */
  shared: SharedFailure[]
}

/** The same check failed on several units of one run. */
export interface SharedFailure {
  check: string
  title: string
  tags: string[]
}
