import type { LiveTopic } from '#runtime/live/live'
import { overlayState } from './overlay.service'

const TOUCHING = ['overlay.', 'closings.']

/** Tells overlays that their key was changed, and that all clocks stand. That there is a key, and since when, is no secret. */
export const overlayTopic: LiveTopic = {
  prefix: 'overlay',
  audience: 'public',
  touchedBy: ({ kind }) => (TOUCHING.some((start) => kind.startsWith(start)) ? ['overlay'] : []),
  frame: (sight) => overlayState(sight),
}
