import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { type Actor, once, type Turn } from '#runtime/queue/turn'
import { putIn, spoiltByLateFitting } from './fit.service'
import { mustBeEmpty, mustSuit, sourceOf } from './may-go-in.service'
import { unitInHand } from './unit-state.service'
import type { fitAllIn } from './units.contract'

/** Fits many lines of the list at once, each from the batch that is named for it: all of them, or none. */
export function fitAll(turn: Turn, actor: Actor, input: z.output<typeof fitAllIn>): { positions: number; batches: string[] } {
  return once(turn, input.key, { fitAll: input }, () => {
    const state = unitInHand(turn, input)
    const named = new Set<string>()
    const batches = input.rows.map(({ designators, batchId }, index) => {
      try {
        const source = sourceOf(turn, { batchId }, { batch: 'rows', piece: 'rows' })
        for (const designator of designators) {
          if (named.has(designator)) throw Refusal.at('rows', `${designator} is named twice.`)
          named.add(designator)
          mustBeEmpty(state, designator)
        }
        mustSuit(turn, state, designators, source)
        const spoils = spoiltByLateFitting(state, designators, input.iron)
        if (spoils.length > 0) {
          const words = `Fitting ${designators.join(', ')} now undoes ${spoils.join(', ')}. Fit that line by itself, so that you are asked.`
          throw Refusal.at('rows', words, 'conflict')
        }
        putIn(turn, actor, state, { designators, source, iron: input.iron, kind: 'first', reworkId: null })
        return source.batch.code
      } catch (refusal) {
        if (!(refusal instanceof Refusal)) throw refusal
        throw Refusal.at('rows', `Line ${index + 1}: ${refusal.message} Nothing was fitted.`, refusal.code)
      }
    })
    return { positions: named.size, batches }
  })
}
