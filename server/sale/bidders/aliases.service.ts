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
  store.findNamed(sight.db, lotId, alias)?.personId ?? null

/** The alias under which a person will bid on a lot: random, and another one on each. */
export const drawAlias = (turn: Turn, lotId: string): string =>
  aliasFrom(turn.dice.bytes(16), (alias) => store.findNamed(turn.db, lotId, alias) !== undefined)

export const giveAlias = (turn: Turn, row: { lotId: string; personId: string; alias: string }): void => store.insertAlias(turn.db, row)

/** From now on no bid under this alias counts. */
export const voidAlias = (turn: Turn, lotId: string, alias: string): void => store.voidAlias(turn.db, lotId, alias, turn.now)
