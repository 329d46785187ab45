import { createServer, type RequestListener, type Server } from 'node:http'

/**
 * The server that the door stands in. A head that is not whole within ten seconds is cut off (408), and so is a
 * request that is not whole within what a large body may take; lines are looked through every second.
 */
export const serverFor = (door: RequestListener): Server =>
  createServer({ headersTimeout: 10_000, requestTimeout: 310_000, keepAliveTimeout: 5_000, connectionsCheckingInterval: 1_000 }, door)
