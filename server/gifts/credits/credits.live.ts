import type { LiveTopic } from '#runtime/live/live'
import { readCreditMarks } from './credits.service'

const TOUCHING = ['donor.', 'consent.', 'gift.', 'parcel.', 'unit.', 'run.', 'fitting.', 'rework.', 'lot.']

/** Says where credits have changed and names nobody: who agreed to be named on stream only is for the overlay, which asks with its key. */
export const creditsTopic: LiveTopic = {
  prefix: 'credits',
  audience: 'public',
  touchedBy: ({ kind }) => (TOUCHING.some((start) => kind.startsWith(start)) ? ['credits'] : []),
  frame: (sight) => readCreditMarks(sight),
}
