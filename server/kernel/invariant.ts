/**
 * A promise that our own code makes. When it is broken the command stops, nothing is written
 * and the fault is logged; nobody catches it.
 */
export function invariant(holds: unknown, promise: string): asserts holds {
  if (!holds) throw new Error(`invariant broken: ${promise}`)
}
