/** The six terminals, in the order in which a machine reaches them. */
export const STAGES = ['given', 'built', 'tested', 'listed', 'sold', 'sent'] as const
export type Stage = (typeof STAGES)[number]

/** How many terminals the wire has reached: 0 none yet, 6 sent. */
export type Reached = 0 | 1 | 2 | 3 | 4 | 5 | 6

/** How far the wire runs, as a sentence: "TERN-03 is given, built and tested; next: listed." */
export function sayStrip(reached: Reached, name = 'This machine'): string {
  const done = STAGES.slice(0, reached)
  const next: Stage | undefined = STAGES.slice(reached)[0]
  const last = done.at(-1)
  if (last === undefined) return `${name} waits for its parts; next: given.`
  const list = done.length === 1 ? last : `${done.slice(0, -1).join(', ')} and ${last}`
  return next ? `${name} is ${list}; next: ${next}.` : `${name} is ${list}.`
}
