import type { Db } from './open'

/** Queries built once for each database: building them at every call halves what the way of a bid can take. */
export function preparedFor<Queries>(prepare: (db: Db) => Queries): (db: Db) => Queries {
  const known = new WeakMap<Db, Queries>()
  return (db) => {
    const found = known.get(db)
    if (found) return found
    const made = prepare(db)
    known.set(db, made)
    return made
  }
}
