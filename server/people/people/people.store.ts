import { and, asc, eq, inArray, isNull, max, notLike, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainRead } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { firstLink, paddle, person } from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import type { Role } from '#kernel/role'

export const findPersonById = (db: Db, id: string) => db.select().from(person).where(eq(person.id, id)).get()
export const findPersonByEmail = (db: Db, email: string) => db.select().from(person).where(eq(person.email, email)).get()

export const listByRoles = (db: Db, roles: readonly Role[]) =>
  db
    .select()
    .from(person)
    .where(inArray(person.role, [...roles]))
    .orderBy(asc(person.createdAt))
    .all()

export function insertPerson(
  db: Db,
  row: { id: string; name: string; email: string; role: Role; roleGivenAt: Instant; at: Instant },
): void {
  const { at, ...rest } = row
  db.insert(person)
    .values({ ...rest, emailVerified: true, image: null, createdAt: new Date(at), updatedAt: new Date(at) })
    .run()
}

export const updatePerson = (
  db: Db,
  id: string,
  change: { name?: string; role?: Role; roleGivenAt?: Instant; zone?: string | null },
): void => {
  db.update(person).set(change).where(eq(person.id, id)).run()
}

// Asked at every bid.
const paddleOf = preparedFor((db) =>
  plainRead(
    db,
    ['personId'],
    db
      .select()
      .from(paddle)
      .where(eq(paddle.personId, sql.placeholder('personId'))),
  ),
)

export const findPaddleRow = (db: Db, personId: string) => paddleOf(db)({ personId })[0]
export const findPaddleByNumber = (db: Db, number: number) => db.select().from(paddle).where(eq(paddle.number, number)).get()
export const highestPaddle = (db: Db): number =>
  db
    .select({ top: max(paddle.number) })
    .from(paddle)
    .get()?.top ?? 0
export const insertPaddle = (db: Db, row: typeof paddle.$inferInsert): void => {
  db.insert(paddle).values(row).run()
}
export const updatePaddle = (db: Db, personId: string, change: Partial<typeof paddle.$inferInsert>): void => {
  db.update(paddle).set(change).where(eq(paddle.personId, personId)).run()
}
export const listPaddleRows = (db: Db) =>
  db
    .select({ number: paddle.number, country: paddle.country, ceilingMinor: paddle.ceilingMinor, name: person.name })
    .from(paddle)
    .innerJoin(person, eq(person.id, paddle.personId))
    .orderBy(asc(paddle.number))
    .all()

export const insertFirstLink = (db: Db, tokenHash: string, madeAt: Instant): void => {
  db.delete(firstLink).where(isNull(firstLink.usedAt)).run()
  db.insert(firstLink).values({ tokenHash, madeAt }).run()
}
export const findFirstLink = (db: Db, tokenHash: string) => db.select().from(firstLink).where(eq(firstLink.tokenHash, tokenHash)).get()
export const spendFirstLink = (db: Db, tokenHash: string, usedAt: Instant): void => {
  db.update(firstLink).set({ usedAt }).where(eq(firstLink.tokenHash, tokenHash)).run()
}

/** Those whose address was deleted have one that leads nowhere (RFC 2606). */
export const listBidderRows = (db: Db) =>
  db
    .select({ id: person.id, name: person.name, email: person.email })
    .from(person)
    .where(and(eq(person.role, 'bidder'), notLike(person.email, '%@forgotten.invalid')))
    .orderBy(person.name, person.id)
    .all()
