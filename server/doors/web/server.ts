import { createServer, type RequestListener, type Server, STATUS_CODES } from 'node:http'
import type { Socket } from 'node:net'
import type { HouseHeaders } from './headers'
import { refuse } from './refuse'

/**
 * The server that the door stands in. A head that is not whole within ten seconds is cut off (408), and so is a
 * request that is not whole within what a large body may take; lines are looked through every second. Every answer
 * carries the house's headers, also what Node would answer by itself without asking the door.
 */
export function serverFor(door: RequestListener, headers: HouseHeaders, mostConnections = Number.POSITIVE_INFINITY): Server {
  const server = createServer(
    {
      headersTimeout: 10_000,
      requestTimeout: 310_000,
      keepAliveTimeout: 5_000,
      connectionsCheckingInterval: 1_000,
      // The door asks for it.
      requireHostHeader: false,
      // A line whose other end is gone without a word is found by the system, where nothing else asks.
      keepAlive: true,
      keepAliveInitialDelay: 15_000,
    },
    (request, response) => {
      headers.secure(response)
      door(request, response)
    },
  )
  // What is over that is closed as it comes; the system would let it in and leave no file for the database.
  server.maxConnections = mostConnections
  server.on('checkExpectation', (_request, response) => {
    headers.secure(response)
    refuse(response, 417, 'Nothing but 100-continue can be expected here.')
  })
  server.on('clientError', (reason: NodeJS.ErrnoException, socket: Socket) => {
    // Where an answer is under way already, a second one would be read as its rest.
    if (!socket.writable || reason.code === 'ECONNRESET' || hasAnswered(socket)) {
      socket.destroy(reason)
      return
    }
    const status = STATUS_OF[reason.code ?? ''] ?? 400
    const lines = headers.always.map(([name, value]) => `${name}: ${value}\r\n`).join('')
    socket.end(
      `HTTP/1.1 ${status} ${STATUS_CODES[status]}\r\n${lines}cache-control: no-store\r\ncontent-length: 0\r\nconnection: close\r\n\r\n`,
    )
  })
  return server
}

const STATUS_OF: Record<string, number> = { HPE_HEADER_OVERFLOW: 431, HPE_CHUNK_EXTENSIONS_OVERFLOW: 413, ERR_HTTP_REQUEST_TIMEOUT: 408 }

/** Node keeps the answer of a line at its socket. */
const hasAnswered = (socket: Socket & { _httpMessage?: { headersSent: boolean } }): boolean => socket._httpMessage?.headersSent ?? false
