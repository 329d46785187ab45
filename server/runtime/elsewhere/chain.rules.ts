/** Below this folder of a copy lies what Litestream wrote: snapshots of the database, and what was added to its log after each. */
export const DATABASE_FOLDER = 'database'

const SNAPSHOT = /^generations\/([\da-f]{16})\/snapshots\/([\da-f]{8})\.snapshot\.lz4$/
const SEGMENT = /^generations\/([\da-f]{16})\/wal\/([\da-f]{8})_([\da-f]{8})\.wal\.lz4$/

export interface Segment {
  path: string
  /** Which log it is of. */
  index: number
  /** At which byte of that log it begins. */
  offset: number
}

/** A snapshot, and all that was added after it without a log missing in between. */
export interface Chain {
  generation: string
  snapshot: string
  segments: readonly Segment[]
}

const hex = (digits = ''): number => Number.parseInt(digits, 16)

export const isLitestreams = (path: string): boolean => SNAPSHOT.test(path) || SEGMENT.test(path)
export const isSnapshot = (path: string): boolean => SNAPSHOT.test(path)

/** The chain of one generation that ends last; null where none of its snapshots is followed by the log that belongs to it. */
export function chainOf(paths: readonly string[], generation: string): Chain | null {
  const snapshots: { path: string; index: number }[] = []
  const all: Segment[] = []
  for (const path of paths) {
    const snapshot = SNAPSHOT.exec(path)
    const segment = SEGMENT.exec(path)
    if (snapshot?.[1] === generation) snapshots.push({ path, index: hex(snapshot[2]) })
    if (segment?.[1] === generation) all.push({ path, index: hex(segment[2]), offset: hex(segment[3]) })
  }
  all.sort((a, b) => a.index - b.index || a.offset - b.offset)
  for (const snapshot of snapshots.sort((a, b) => b.index - a.index)) {
    const segments = followed(
      all.filter(({ index }) => index >= snapshot.index),
      snapshot.index,
    )
    if (segments.length > 0) return { generation, snapshot: snapshot.path, segments }
  }
  return null
}

/** Logs follow each other without one left out, and each begins at its beginning. */
function followed(segments: readonly Segment[], first: number): Segment[] {
  const taken: Segment[] = []
  let last: Segment = { path: '', index: first - 1, offset: 0 }
  for (const segment of segments) {
    const isNext = segment.index === last.index ? segment.offset > last.offset : segment.index === last.index + 1 && segment.offset === 0
    if (!isNext) break
    taken.push(segment)
    last = segment
  }
  return taken
}

/** The first segment that does not begin where the one before it ended, by how long each is when it is unpacked. */
export function firstGap(segments: readonly Segment[], lengthOf: (segment: Segment) => number): Segment | null {
  let end = { index: -1, offset: 0 }
  for (const segment of segments) {
    if (segment.offset !== (segment.index === end.index ? end.offset : 0)) return segment
    end = { index: segment.index, offset: segment.offset + lengthOf(segment) }
  }
  return null
}
