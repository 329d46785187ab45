import { createReadStream } from 'node:fs'
import type { IncomingMessage, ServerResponse } from 'node:http'

/**
 * Sends a file, or the bytes from `start` to `end` of it, behind the headers that are set; none of it where only those are asked for. It
 * is not held open for whoever has gone: a player asks for a range, takes what it needs and leaves.
 */
export function streamFile(request: IncomingMessage, response: ServerResponse, file: string, part?: { start: number; end: number }): void {
  if (request.method === 'HEAD') {
    response.end()
    return
  }
  const stream = createReadStream(file, part)
  response.once('close', () => stream.destroy())
  stream.on('error', () => response.destroy()).pipe(response)
}
