import { placePenalty } from '#sale/planning/model.rules'
import type { PlanQuestion } from '#sale/planning/planning.contract'
import type { Solve } from '#sale/planning/solved.rules'

/**
 * The same day written another way, to hold the planner's program against: one integer for the time of each closing,
 * for each pair a binary that says which comes first, breaks as a choice of side, and wishes as switches on big-M rows.
 * Only the worth at each slot needs a binary for each slot, tied to the time by one equation.
 */
export function worthByOrder(question: PlanQuestion, solve: Solve): number | null {
  const { closings, taken, announced, wishes, slots, likeApart } = question
  const big = 4 * (slots + 10)
  const rows: string[] = []
  const binaries: string[] = []
  const bounds: string[] = []
  const worth: string[] = []
  const binary = (name: string) => {
    binaries.push(name)
    return name
  }
  for (const [i, closing] of closings.entries()) {
    bounds.push(`${Math.max(closing.before, closing.earliest)} <= t${i} <= ${slots}`)
    const at = Array.from({ length: slots + 1 }, (_, slot) => binary(`s${i}_${slot}`))
    rows.push(`${at.map((name) => `+ ${name}`).join(' ')} = 1`)
    rows.push(`${at.map((name, slot) => `+ ${slot} ${name}`).join(' ')} - t${i} = 0`)
    for (const [slot, name] of at.entries()) {
      const figure = (closing.value[slot] ?? 0) - placePenalty(question, closing, slot)
      worth.push(`${figure < 0 ? '-' : '+'} ${Math.abs(figure)} ${name}`)
    }
    for (const [n, { from, to }] of closing.barred.entries()) {
      const after = binary(`n${i}_${n}`)
      rows.push(`t${i} - ${big} ${after} <= ${from - 1}`)
      rows.push(`t${i} - ${big} ${after} >= ${to - big}`)
    }
    for (const [b, { from, to }] of taken.entries()) {
      const after = binary(`b${i}_${b}`)
      rows.push(`t${i} - ${big} ${after} <= ${from - closing.after}`)
      rows.push(`t${i} - ${big} ${after} >= ${to + closing.before - big}`)
    }
    for (const [j, other] of closings.entries()) {
      if (j <= i) continue
      const isAlike = closing.design !== null && closing.design === other.design
      const first = binary(`o${i}_${j}`)
      const gap = (early: typeof closing, late: typeof closing) => Math.max(early.after + late.before, isAlike ? likeApart : 0)
      // first = 1: i closes before j.
      rows.push(`t${j} - t${i} - ${big} ${first} >= ${gap(closing, other) - big}`)
      rows.push(`t${i} - t${j} + ${big} ${first} >= ${gap(other, closing)}`)
    }
  }
  const comesBefore = (i: number, j: number) => (i < j ? { name: `o${i}_${j}`, is: 1 } : { name: `o${j}_${i}`, is: 0 })
  const countBefore = (own: number, others: readonly number[]) => {
    const terms = others.map((j) => comesBefore(j, own))
    return {
      sum: terms.map(({ name, is }) => `${is === 1 ? '+' : '-'} ${name}`).join(' '),
      constant: terms.filter(({ is }) => is === 0).length,
    }
  }
  for (const [w, { kind, lot, from, to, isPin, weightMinor }] of wishes.entries()) {
    const own = closings.findIndex((closing) => closing.lot === lot)
    const others = closings.map((_, j) => j).filter((j) => j !== own)
    const kept = binary(`k${w}`)
    if (isPin) rows.push(`${kept} = 1`)
    else worth.push(`+ ${weightMinor} ${kept}`)
    if (kind === 'within') {
      rows.push(`t${own} - ${big} ${kept} >= ${from - big}`)
      rows.push(`t${own} + ${big} ${kept} <= ${to + big}`)
    } else if (kind === 'last') {
      for (const fixed of announced) rows.push(`t${own} - ${big} ${kept} >= ${fixed + 1 - big}`)
      if (others.length > 0)
        rows.push(`${countBefore(own, others).sum} - ${others.length} ${kept} >= ${-countBefore(own, others).constant}`)
    } else if (others.length + announced.length > 0) {
      const afterOne = binary(`z${w}`)
      if (announced.length > 0) rows.push(`t${own} - ${big} ${afterOne} >= ${Math.min(...announced) + 1 - big}`)
      else rows.push(`${afterOne} = 0`)
      const { sum, constant } = countBefore(own, others)
      rows.push(`${sum} + ${afterOne} - ${kept} >= ${-constant}`)
    }
  }
  const lp = [
    'Maximize',
    `obj: ${worth.join(' ')}`,
    'Subject To',
    ...rows.map((row, n) => `r${n}: ${row}`),
    'Bounds',
    ...bounds,
    'General',
    closings.map((_, i) => `t${i}`).join(' '),
    'Binary',
    binaries.join(' '),
    'End',
  ].join('\n')
  const solved = solve(lp, 'by order')
  return solved && Math.round(solved.objective)
}
