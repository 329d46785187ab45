import type { IncomingMessage } from 'node:http'

/** Conditions and ranges that the pages' own program answers with a fault when they cannot be met. Nothing here needs them. */
const CONDITIONS = ['range', 'if-range', 'if-match', 'if-unmodified-since']
/** What the pages' own program sends to itself to ask for a part of a page; from anybody else it may be anything. */
const STATE = 'next-router-state-tree'

/** Takes out of a request what would make a fault of it: whoever sent that gets the whole page. */
export function leaveOut({ headers }: IncomingMessage): void {
  for (const name of CONDITIONS) delete headers[name]
  if (headers[STATE] === undefined || isTree(String(headers[STATE]))) return
  for (const name of Object.keys(headers)) if (name === 'rsc' || name.startsWith('next-')) delete headers[name]
}

/** As `[segment, { children: tree }, …]`, written as JSON and encoded. */
function isTree(text: string): boolean {
  try {
    return isNode(JSON.parse(decodeURIComponent(text)))
  } catch {
    return false
  }
}

function isNode(value: unknown): boolean {
  if (!Array.isArray(value) || value.length < 2 || value.length > 6) return false
  const [segment, children] = value
  const isSegment =
    typeof segment === 'string' ||
    (Array.isArray(segment) && segment.every((part) => part === null || typeof part !== 'object' || Array.isArray(part)))
  return isSegment && typeof children === 'object' && children !== null && !Array.isArray(children) && Object.values(children).every(isNode)
}
