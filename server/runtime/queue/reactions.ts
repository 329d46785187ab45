import type { Fact, Turn } from './turn'

/**
 * What a higher room does because of a fact that a lower one records. It acts in the same turn and so in the same
 * savepoint: when it refuses, the whole command is undone, and the fact with it.
 */
export interface Reaction {
  /** Kinds of the facts on which it acts. */
  to: readonly string[]
  act(turn: Turn, fact: Fact): void
}

/** Runs what is to follow a fact, in the order of the table. For a fact that nothing follows, such as a bid, that is one look-up. */
export function reactionsOf(table: readonly Reaction[]): (turn: Turn, fact: Fact) => void {
  const byKind = new Map<string, Reaction[]>()
  for (const reaction of table) for (const kind of reaction.to) byKind.set(kind, [...(byKind.get(kind) ?? []), reaction])
  return (turn, fact) => {
    const following = byKind.get(fact.kind)
    if (following) for (const reaction of following) reaction.act(turn, fact)
  }
}
