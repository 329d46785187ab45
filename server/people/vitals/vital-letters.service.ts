import { and, asc, eq, inArray } from 'drizzle-orm'
import { fact } from '#db/schema/index'
import { Refusal } from '#kernel/refusal'
import type { Queue } from '#runtime/queue/queue'
import type { Sight, Turn } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'
import { type News, newsOf } from '#runtime/vitals/news.rules'
import type { Vitals } from '#runtime/vitals/vitals'
import { listStaff } from '../people/people.service'
import { vitalLetter } from './vital-letters.rules'

const BAD = 'vital.bad'
const OVER = 'vital.over'
const OF_THE_HOUSE = 'house'

/** Of which the makers have been told that they are bad, and not yet that they are well again. It outlives a restart. */
export function listTold({ db }: Pick<Sight, 'db'>): ReadonlySet<string> {
  const told = new Set<string>()
  const rows = db
    .select({ kind: fact.kind, body: fact.body })
    .from(fact)
    .where(and(eq(fact.subject, OF_THE_HOUSE), inArray(fact.kind, [BAD, OVER])))
    .orderBy(asc(fact.seq))
    .all()
  for (const { kind, body } of rows) {
    if (kind === BAD) told.add(String(body.vital))
    else told.delete(String(body.vital))
  }
  return told
}

/** Writes one letter to each maker. */
export function tellMakers(turn: Turn, news: News): void {
  const words = vitalLetter(news, turn.publicUrl)
  for (const { email } of listStaff(turn).filter(({ role }) => role === 'maker')) turn.post({ to: email, ...words })
  for (const [kind, vitals] of [
    [BAD, news.bad],
    [OVER, news.over],
  ] as const)
    for (const { key } of vitals) turn.record({ kind, subject: OF_THE_HOUSE, body: { vital: key } })
}

/**
 * Looks, whenever it is called, whether there is something to tell, and tells it. What cannot be stored is told when it can:
 * until then the page alone says it.
 */
export function openVitalLetters({ vitals, sight, queue, log }: { vitals: Vitals; sight(): Sight; queue: Queue; log: Log }) {
  let told: ReadonlySet<string> | null = null
  let isTelling = false
  return async () => {
    if (isTelling) return
    const now = sight()
    told ??= listTold(now)
    const news = newsOf(vitals.list(), told, now.now)
    if (news.bad.length + news.over.length === 0) return
    isTelling = true
    try {
      await queue.run((turn) => tellMakers(turn, news))
      told = null
      log.warn({ bad: news.bad.map(({ key }) => key), over: news.over.map(({ key }) => key) }, 'the makers were written to about the house')
    } catch (reason) {
      if (!(reason instanceof Refusal && reason.code === 'no-room')) log.debug({ err: reason }, 'the makers could not be written to')
    } finally {
      isTelling = false
    }
  }
}
