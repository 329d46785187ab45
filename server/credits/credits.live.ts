import type { LiveTopic } from '../runtime/live'

const TOUCHING = ['donor.', 'consent.', 'gift.', 'parcel.', 'batch.', 'piece.', 'unit.', 'run.', 'fitting.', 'rework.']

/**
 * Says that credits may have changed and names nobody: who agreed to be named on stream only is for
 * the overlay, which asks again with its key.
 */
export const creditsTopic: LiveTopic = {
  prefix: 'credits',
  audience: 'public',
  touchedBy: ({ kind }) => (TOUCHING.some((start) => kind.startsWith(start)) ? ['credits'] : []),
  frame: (sight) => ({ at: sight.now }),
}
