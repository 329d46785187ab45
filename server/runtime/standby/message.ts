import { z } from 'zod'
import { type Sealing, sealFor } from '../queue/sealing'
import { rowsShape } from './changed-rows'

/** What a machine tells the others: the rows that one transaction changed, or that it is the one that writes from here on. */
const messageShape = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('group'), migration: z.string(), at: z.number(), rows: rowsShape }),
  z.object({ kind: z.literal('opened'), migration: z.string(), at: z.number(), who: z.string() }),
])
export type Message = z.infer<typeof messageShape>

/** One message of the stream, as it is sent and kept. What is too long for one is cut into parts that count only together. */
export interface Part {
  /** Its place in the stream. */
  number: number
  /** The same for all parts of one message, and for no other message. */
  messageId: string
  /** "2/3", or `OPENING`. */
  part: string
  body: string
}

const sealOf = (keys: Sealing) => sealFor(keys, 'what is told to machines that stand by')

const boundTo = ({ number, messageId, part }: Omit<Part, 'body'>) => `${number} ${messageId} ${part}`

/** Cuts and seals the JSON of a message, the first part at `number`. `most` is how many bytes a body may have. */
export function partsOf(keys: Sealing, json: string, number: number, messageId: string, most: number): Part[] {
  const bytes = Buffer.from(json)
  // Sealing adds a nonce and a tag, and writes four letters for three bytes.
  const each = Math.floor((most * 3) / 4) - 64
  const count = Math.max(1, Math.ceil(bytes.byteLength / each))
  return Array.from({ length: count }, (_, index) => {
    const place = { number: number + index, messageId, part: `${index + 1}/${count}` }
    return { ...place, body: sealOf(keys).close(boundTo(place), bytes.subarray(index * each, (index + 1) * each)) }
  })
}

/** What stands in place of "1/1" where no row was changed. */
export const OPENING = '0/0'

/** Says that a machine writes from here on. */
export function openingPart(keys: Sealing, number: number, messageId: string, said: { migration: string; at: number; who: string }): Part {
  const place = { number, messageId, part: OPENING }
  return { ...place, body: sealOf(keys).close(boundTo(place), Buffer.from(JSON.stringify({ kind: 'opened', ...said }))) }
}

/** Puts parts together as they come. Answers the message when it is whole; parts whose rest never came are forgotten. */
export function openReader(keys: Sealing): (part: Part) => Message | null {
  let before: { messageId: string; bytes: Buffer[] } | null = null
  return (part) => {
    const [index, count] = part.part.split('/').map(Number)
    const bytes = sealOf(keys).open(boundTo(part), part.body)
    if (index === 0) return messageShape.parse(JSON.parse(bytes.toString('utf8')))
    if (index === 1) before = { messageId: part.messageId, bytes: [] }
    if (before?.messageId !== part.messageId || before.bytes.length + 1 !== index) throw new Error('a message begins in its middle')
    before.bytes.push(bytes)
    if (index !== count) return null
    return messageShape.parse(JSON.parse(Buffer.concat(before.bytes).toString('utf8')))
  }
}
