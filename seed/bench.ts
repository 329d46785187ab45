import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { parse } from 'csv-parse/sync'
import { type Check, type DecisionRule, designIn } from '#bench/designs/design.contract'
import { getDesign } from '#bench/designs/designs.service'
import { importAtOnce } from '#bench/designs/import.service'
import { halfWidth, readAccuracy } from '#bench/units/accuracy.rules'
import { hasPassed } from '#bench/units/current.rules'
import { listInstruments, saveInstrument } from '#bench/units/instruments.service'
import { nextPermitted } from '#bench/units/permitted.rules'
import { releaseHold } from '#bench/units/readings.service'
import { runningSoak, startSoak } from '#bench/units/soak.service'
import { loadUnit, type UnitState } from '#bench/units/unit-state.service'
import { enterFitting, enterReading } from '#floor/bringup/bringup.service'
import type { Actor, Turn } from '#runtime/queue/turn'
import { buyBatch } from '#stock/shelf/batch.service'
import { inspectPiece } from '#stock/shelf/piece.service'
import { batchesFor } from '#stock/shelf/stock.service'

interface DesignLine {
  key: string
  name: string
  revision: string
  rule: DecisionRule
  prefix: string
  quirks: string
  cautions: string
}

/** The machines listed in a folder come in through the import that a maker uses. Gives the ids, and the letters of their tags. */
export function importDesigns(turn: Turn, actor: Actor, dir: string): { key: string; designId: string; prefix: string }[] {
  const lines = parse(readFileSync(join(dir, 'designs.csv')), { columns: true }) as DesignLine[]
  const sheet = (name: string) => ({ name, base64: readFileSync(join(dir, name)).toString('base64') })
  return lines.map(({ key, name, revision, rule, prefix, quirks, cautions }) => {
    const lists = { checklist: sheet(`${key}-checklist.csv`), partsList: sheet(`${key}-parts.csv`), feeds: sheet(`${key}-feeds.csv`) }
    const input = designIn.parse({ key, name, revision, decisionRule: rule, quirks, cautions, ...lists })
    return { key, prefix, designId: importAtOnce(turn, actor, input).designId }
  })
}

const INSTRUMENTS = [
  {
    name: 'Bench meter no. 2',
    accuracy:
      '600.0 mV ±(0.5 % + 2 digits); 6.000 V ±(0.5 % + 2 digits); 60.00 V ±(0.5 % + 2 digits); 600.0 V ±(0.5 % + 2 digits); Ω ±(0.8 % + 2 digits); A ±(1 % + 3 digits); V rms ±(1 % + 3 digits); 6000 counts',
  },
  { name: 'Counter no. 1', accuracy: 'Hz ±(2 ppm + 1 Hz); s ±(2 ppm + 1 µs)' },
  { name: 'Level meter no. 1', accuracy: 'dB ±0.8 dB' },
  { name: 'Signal generator no. 1', accuracy: '10.00 µV ±(6 % + 2 digits); 100.0 µV ±(6 % + 2 digits)' },
  { name: 'Comparator no. 3', accuracy: '±1 %' },
]

/** What stands on the bench, checked some weeks before `turn.now` and due again in eleven months. */
export function layOutInstruments(turn: Turn, actor: Actor): void {
  const day = (offset: number) => new Date(turn.now + offset * 86_400_000).toISOString().slice(0, 10)
  for (const { name, accuracy } of INSTRUMENTS) saveInstrument(turn, actor, { name, accuracy, checkedOn: day(-30), dueOn: day(335) })
}

/** Enough of everything for so many units, bought in: for what no gift covers. Programmed chips are read and found right. */
export function buyWhatIsMissing(turn: Turn, actor: Actor, designId: string, units: number, boughtFrom: string): void {
  const design = getDesign(turn, designId)
  for (const { part, quantity } of design.lines) {
    const inHand = batchesFor(turn, part.id).reduce((sum, batch) => sum + batch.inHand, 0)
    const wanted = design.lines.filter((line) => line.partId === part.id).reduce((sum, line) => sum + line.quantity, 0) * units
    if (inHand >= wanted || quantity === 0) continue
    buyBatch(turn, actor, { partId: part.id, boughtFrom, quantity: wanted - inHand, marking: '', dateCode: '' })
    readProgrammed(turn, actor, part.id)
  }
}

/** Reads every untouched piece of a programmed part and finds the right image in it. */
export function readProgrammed(turn: Turn, actor: Actor, partId: string): void {
  for (const batch of batchesFor(turn, partId)) {
    const { imageSha256, idcode, programmed } = batch.part
    if (!programmed || imageSha256 === null) continue
    for (const piece of batch.loose.filter(({ verdict }) => verdict === 'not inspected')) {
      const read = { pieceId: piece.id, reader: 'Programmer no. 1', symptom: '', imageSha256, idcode: idcode ?? '' }
      inspectPiece(turn, actor, { ...read, verdict: 'good and programmed' })
    }
  }
}

/** Fits every position that may be fitted now, as far as the batches in hand go. False when nothing was. */
function fitWhatIsReady(turn: Turn, actor: Actor, { design, fitted, bench, unit }: UnitState): boolean {
  const { tag } = unit
  const ready = design.positions.filter(
    ({ designator, fittedAfter }) => !fitted.has(designator) && (fittedAfter === null || hasPassed(bench.states.get(fittedAfter))),
  )
  let isChanged = false
  for (const partId of new Set(ready.map((position) => position.partId))) {
    const wanted = ready.filter((position) => position.partId === partId).map(({ designator }) => designator)
    for (const { id, inHand, loose, restriction } of batchesFor(turn, partId).reverse()) {
      const isForOther = (restriction.onlyForUnitId ?? unit.id) !== unit.id || (restriction.onlyForDesignId ?? design.id) !== design.id
      if (isForOther || inHand === 0) continue
      const good = loose.filter(({ verdict }) => verdict.startsWith('good') || verdict === 'not inspected').map((piece) => piece.tag)
      const putIn = (designators: string[], from: { pieceTag: string } | { batchId: string }) => {
        if (designators.length === 0) return
        enterFitting(turn, actor, { ...hand(turn, tag), designators, iron: true, confirmUndo: false, ...from })
        isChanged = true
      }
      const now = wanted.splice(0, inHand)
      if (good.length > 0) for (const [index, designator] of now.entries()) putIn([designator], { pieceTag: good[index] ?? '' })
      else putIn(now, { batchId: id })
    }
  }
  return isChanged
}

export interface BringUp {
  tag: string
  /** The check before which to stop; everything that may be done is done without it. */
  until?: string
  /** Readings other than the usual, by check: "15.2", "no". */
  readings?: Record<string, string>
  ambient?: string
  /** Readings differ a little from unit to unit and from one time to the next, and a soak runs for its hours, as at a bench. */
  varies?: boolean
}

export interface Step {
  check: string
  minutes: number
  failed: boolean
  /** A soak was started: switched on from cold so often while its minutes run. */
  coldStarts?: number
}

/** A soak has run by the time it is entered; what is left is to write it down. */
const WRITING_DOWN = 5

/**
 * The next thing on the checklist of a unit: fits what may be fitted, then releases the hold point that waits, in the
 * actor's name, or takes the permitted check with its usual reading or the one given. Null at `until` and at the end.
 */
export function stepOn(turn: Turn, actor: Actor, { tag, until, readings = {}, ambient = '21 °C', varies = false }: BringUp): Step | null {
  const found = loadUnit(turn, tag)
  const { bench, design } = fitWhatIsReady(turn, actor, found) ? loadUnit(turn, tag) : found
  const next = nextPermitted(bench)
  const check = design.checks.find(({ key }) => key === next?.check)
  if (!next || !check || check.key === until) return null
  if (next.may === 'release') {
    releaseHold(turn, actor, { ...hand(turn, tag), check: check.key, name: actor.name })
    return { check: check.key, minutes: 0, failed: false }
  }
  const coldStarts = check.coldStarts ?? 0
  if (varies && check.kind === 'soak' && !runningSoak(turn, found.unit.id)) {
    startSoak(turn, actor, { ...hand(turn, tag), check: check.key })
    return { check: check.key, minutes: (check.soakHours ?? 0) * 60, failed: false, coldStarts }
  }
  const wanted = readings[check.key] ?? usual(check, varies ? tag : '')
  const before = found.readings.filter(({ checkKey }) => checkKey === check.key).map(({ value }) => value)
  const entry = varies ? notTwice(check, wanted, before, `${tag} ${before.length}`) : wanted
  const soak = check.kind === 'soak' ? { hours: String(check.soakHours ?? 0), starts: String(coldStarts), isStated: !varies } : {}
  const instrumentId = check.kind === 'measure' ? instrumentFor(turn, check) : undefined
  const taken = enterReading(turn, actor, { ...hand(turn, tag), check: check.key, entry, ...soak, instrumentId, ambient, note: '' })
  return { check: check.key, minutes: check.kind === 'soak' ? WRITING_DOWN : check.minutes, failed: taken.verdict.startsWith('fail') }
}

/** Works down the checklist of a unit until a failure, until the check named, or to the end. Gives the check it stopped at, or null. */
export function bringUp(turn: Turn, actor: Actor, plan: BringUp): string | null {
  for (;;) {
    const step = stepOn(turn, actor, plan)
    if (step === null) return nextPermitted(loadUnit(turn, plan.tag).bench)?.check ?? null
    if (step.failed) return step.check
  }
}

/** What a good unit reads: a little off the nominal and inside the limits, or well inside an open one. */
function usual({ kind, expects, nominal, lower, upper, decimals, seq }: Check, tag = ''): string {
  if (kind === 'match') return expects ?? ''
  if (kind === 'yesno') return 'yes'
  if (kind !== 'measure') return String(nominal ?? 0)
  const middle = nominal ?? (lower === null ? (upper ?? 0) / 2 : lower * 2)
  const room = Math.min(...[upper, lower].map((limit) => (limit === null ? Number.POSITIVE_INFINITY : Math.abs(limit - middle))))
  const off = Number.isFinite(room) ? ((((seq * 7) % 5) - 2) * 0.08 + swing(tag, seq) * 0.12) * room : 0
  return (middle + off).toFixed(decimals + 1)
}

/** What the meter showed before it does not show again to the last digit: one to three of them further, on the side of the nominal when it is far off. */
function notTwice({ kind, nominal, lower, upper, seq }: Check, entry: string, before: readonly number[], tag: string): string {
  const value = Number(entry)
  if (kind !== 'measure' || !before.includes(value)) return entry
  const decimals = entry.split('.')[1]?.length ?? 0
  const chance = swing(tag, seq)
  const middle = nominal ?? (lower === null ? (upper ?? 0) / 2 : lower * 2)
  const room = Math.min(...[upper, lower].map((limit) => (limit === null ? Number.POSITIVE_INFINITY : Math.abs(limit - middle))))
  const isFarOff = Math.abs(value - middle) > room / 2
  const side = isFarOff ? Math.sign(middle - value) : Math.sign(chance) || 1
  const digits = 1 + Math.floor(Math.abs(chance) * 2.99)
  const next = (value + (side * digits) / 10 ** decimals).toFixed(decimals)
  return notTwice({ kind, nominal, lower, upper, seq } as Check, next, before, `${tag}+`)
}

/** Between −1 and 1, another for each unit and check; none without a tag. */
function swing(tag: string, seq: number): number {
  const mixed = [...tag, ...String(seq * 7)].reduce((sum, character) => (sum * 389 + character.charCodeAt(0) * 71) % 997, 7)
  return tag === '' ? 0 : (mixed / 996) * 2 - 1
}

const hand = (turn: Turn, tag: string) => ({ key: turn.dice.id(), tag, seen: tag })

/** The one with the least doubt where the check is decided; one that is made for everything only where there is no other. */
function instrumentFor(turn: Turn, { unit, nominal, lower, upper }: Check): string | undefined {
  const value = Math.max(...[nominal, lower, upper].map((figure) => Math.abs(figure ?? 0)))
  const fitting = listInstruments(turn).flatMap(({ id, name, accuracy }) => {
    const read = readAccuracy(accuracy)
    const doubt = read.ok ? halfWidth(read.terms, { value, resolution: 0.1, unit }, read.counts) : null
    return doubt === null ? [] : [{ id, doubt, forAll: name.startsWith('Comparator') ? 1 : 0 }]
  })
  return fitting.sort((a, b) => a.forAll - b.forAll || a.doubt - b.doubt)[0]?.id
}
