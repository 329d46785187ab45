import { SECOND } from './instant'

/** Shorter than this, a silence of the house is no outage. It notes each second that it is alive. */
export const SHORT_SILENCE = 5 * SECOND
