import { csvFile, type SavedFile } from '#kernel/csv'
import { toIso } from '#kernel/instant'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { type Change, type ChangeEntry, type ChangesView, type ListChangesIn, THE_HOUSE } from './changes.contract'
import { changeSentence, shortAddress } from './changes.rules'
import * as store from './changes.store'

const ON_A_PAGE = 50
const OF_THE_HOUSE = 'The house'

/** Who changed something; null for the house, by itself or on the machine that it runs on. */
export type ChangedBy = Actor | null

/** Writes down who changed what, in the turn that changes it. What is the same as before is no change. */
export function noteChange(turn: Turn, by: ChangedBy, change: Change): void {
  if (change.before === change.after && change.before !== '') return
  const name = by === null ? OF_THE_HOUSE : by.name || shortAddress(by.email)
  const who = { byPersonId: by?.personId ?? null, byName: name, byRole: by?.role ?? null }
  store.insertChange(turn.db, { at: turn.now, ...who, ...change })
}

/** Of many fields those that were changed, each as a record of its own. */
export function noteChanges(
  turn: Turn,
  by: ChangedBy,
  kind: Change['kind'],
  before: Readonly<Record<string, string>> | null,
  after: Readonly<Record<string, string>>,
): void {
  for (const [what, now] of Object.entries(after)) {
    const was = before?.[what] ?? ''
    if (was !== now) noteChange(turn, by, { kind, what, before: was, after: now })
  }
}

/** What something was last changed to; null where the record knows nothing of it. */
export const lastNoted = (sight: Sight, of: Pick<Change, 'kind' | 'what'>): string | null => store.latestAfter(sight.db, of)

export function listChanges(sight: Sight, input: ListChangesIn): ChangesView {
  const rows = store.listChangeRows(sight.db, input, ON_A_PAGE + 1)
  const entries = rows.slice(0, ON_A_PAGE).map(entryOf)
  return {
    entries,
    count: store.countChanges(sight.db, input),
    next: rows.length > ON_A_PAGE ? (entries.at(-1)?.seq ?? null) : null,
    people: store.listChangers(sight.db).map(({ id, name }) => ({ id: id ?? THE_HOUSE, name })),
  }
}

const entryOf = ({ byName, byPersonId: _id, ...row }: store.ChangeRow): ChangeEntry => ({ ...row, by: byName })

const HEAD = ['number', 'at', 'kind', 'by', 'role', 'sentence', 'what', 'before', 'after']

/** The whole record as a table, in the order in which it happened. */
export const changesFile = (sight: Sight): SavedFile =>
  csvFile(
    'changes.csv',
    HEAD,
    store.listAllChanges(sight.db).map((row) => {
      const { seq, at, kind, by, byRole, what, before, after } = entryOf(row)
      return [seq, toIso(at), kind, by, byRole ?? '', changeSentence({ by, kind, what, before, after }), what, before, after]
    }),
  )
