/** So many entries stand on one page of a history, the newest first. */
export const ENTRIES_ON_A_PAGE = 100

export interface EntryPage<Entry> {
  page: number
  pages: number
  /** The entries of this page with their places in the history, from 1. */
  entries: { entry: Entry; place: number }[]
}

/** The page that an address asks for (`?page=2`): the first is the newest, and whatever is no page of this history is the first too. */
export function entryPage<Entry>(all: readonly Entry[], asked: unknown): EntryPage<Entry> {
  const pages = Math.max(1, Math.ceil(all.length / ENTRIES_ON_A_PAGE))
  const number = typeof asked === 'string' && /^[1-9]\d{0,5}$/.test(asked) ? Number(asked) : 1
  const page = number <= pages ? number : 1
  const to = all.length - (page - 1) * ENTRIES_ON_A_PAGE
  const from = Math.max(0, to - ENTRIES_ON_A_PAGE)
  const entries = all.slice(from, to).map((entry, index) => ({ entry, place: from + index + 1 }))
  return { page, pages, entries: entries.reverse() }
}
