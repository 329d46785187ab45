import type { Sight, Turn } from '#runtime/queue/turn'
import { aliasFrom } from './alias.rules'
import * as store from './bidders.store'

export type { AliasRow } from './bidders.store'

/** The alias under which somebody bids on a lot; undefined before their first bid there. */
export const findAlias = (sight: Sight, lotId: string, personId: string) => store.findAlias(sight.db, lotId, personId)
export const listAliases = (sight: Sight, lotId: string) => store.listAliases(sight.db, lotId)

/** Aliases whose bids count no more, on any lot. */
export const listVoidedAliases = (sight: Sight) => store.listVoidedAliases(sight.db)

/** Who stands behind an alias; for the house alone. */
export const personBehind = (sight: Sight, lotId: string, alias: string): string | null =>
  store.listAliases(sight.db, lotId).find((one) => one.alias === alias)?.personId ?? null

/** The alias under which a person will bid on a lot: random, and another one on each. */
export function drawAlias(turn: Turn, lotId: string): string {
  const taken = new Set(store.listAliases(turn.db, lotId).map(({ alias }) => alias))
  return aliasFrom(turn.dice.bytes(16), taken)
}

export const giveAlias = (turn: Turn, row: { lotId: string; personId: string; alias: string }): void => store.insertAlias(turn.db, row)

/** From now on no bid under this alias counts. */
export const voidAlias = (turn: Turn, lotId: string, alias: string): void => store.voidAlias(turn.db, lotId, alias, turn.now)
