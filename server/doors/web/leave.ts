import type { IncomingMessage, RequestListener, Server, ServerResponse } from 'node:http'
import { Server as Listener } from 'node:net'
import { setTimeout as wait } from 'node:timers/promises'
import type { HouseHeaders } from './headers'
import { refuse } from './refuse'

export interface Leave {
  door: RequestListener
  /**
   * From now on nobody new is let in, and nothing new is taken. Resolves when everything that was under way has been answered
   * and what was just being sent has been told to come again, or after `mostMs`.
   */
  begin(server: Server, mostMs: number): Promise<void>
}

/** What has been sent but not read yet comes in within this. */
const LAST_WORDS_MS = 150
const WORDS = 'The house is restarting. Nothing was accepted; try again in a few seconds.'

/**
 * Stands before the door, so that a house that is told to end breaks off no answer: what was asked before is answered,
 * what comes after is told to come again. Event streams are not waited for; the hub sends their readers away itself.
 */
export function openLeave(inside: (request: IncomingMessage, response: ServerResponse) => void, headers: HouseHeaders): Leave {
  const underWay = new Set<ServerResponse>()
  let isLeaving = false
  let done = () => {}

  const isStream = (request: IncomingMessage) => request.url?.startsWith('/live') === true
  return {
    door(request, response) {
      if (isLeaving) {
        // A browser gives up a stream that was refused; one that was cut off it opens again.
        if (isStream(request)) request.socket.destroy()
        else {
          headers.secure(response)
          refuse(response.setHeader('retry-after', '3').setHeader('connection', 'close'), 503, WORDS)
        }
        return
      }
      if (!isStream(request)) {
        underWay.add(response)
        response.once('close', () => {
          underWay.delete(response)
          if (isLeaving && underWay.size === 0) done()
        })
      }
      inside(request, response)
    },
    async begin(server, mostMs) {
      isLeaving = true
      // HTTP's own `close` would cut off lines on which a request is just coming in.
      Listener.prototype.close.call(server)
      await wait(LAST_WORDS_MS)
      if (underWay.size === 0) return
      await new Promise<void>((resolve) => {
        done = resolve
        setTimeout(resolve, mostMs).unref()
      })
    },
  }
}
