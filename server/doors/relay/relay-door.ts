import type { IncomingMessage, ServerResponse } from 'node:http'
import { openTally } from '#runtime/call/tally'
import { lastSeenIn } from '#runtime/live/event-stream.rules'
import type { OpenFiles } from '#runtime/live/open-files'
import type { Receiver } from '#runtime/relay/receiver'
import { isAmong } from '#runtime/relay/wire'
import { noteEvent } from '#runtime/settings/events'
import type { Log } from '#runtime/settings/log'
import type { openOwnFiles } from '../pages/own-files'
import { addressOf } from '../web/context'
import { enter } from '../web/enter'
import { refuse } from '../web/refuse'
import { FULL_HOUSE, LIVE_HERE, MOST_STREAMS, MOST_TOPICS, TOO_MANY_STREAMS, TOPICS_WANTED, topicsAsked } from '../web/stream-limits'
import { openHandOn, sayNotReached } from './hand-on'
import { bringsBody } from './shared.rules'
import { openSharedAnswers } from './shared-answers'

const NO_BODY = 'Whoever reads sends nothing with it: ask again without a body.'
const NOT_MET = 'The house does not answer this relay yet. This page keeps trying.'

export interface RelayDoorParts {
  receiver: Receiver
  trustedProxy: 'none' | 'x-forwarded-for'
  /** Where the house is, if it is not to be taken from what the house says. */
  writerUrl?: string
  build: string
  files: ReturnType<typeof openOwnFiles>
  openFiles: OpenFiles
  log: Log
}

/** A relay's door: public streams, the time, files of the build and what may be shared are answered here, and the house is asked for the rest. */
export function openRelayDoor(parts: RelayDoorParts) {
  const { receiver, trustedProxy, writerUrl, build, files, openFiles, log } = parts
  const { fan } = receiver
  const handOn = openHandOn({
    url: () => writerUrl ?? receiver.house()?.url ?? null,
    addressOf: (request) => addressOf(request, trustedProxy),
  })
  const shared = openSharedAnswers({
    handOn,
    standing: () => ({ seq: receiver.seqNow(), build: receiver.house()?.build ?? '' }),
  })
  const streams = openTally(MOST_STREAMS)

  const live = async (request: IncomingMessage, response: ServerResponse, url: URL) => {
    const topics = topicsAsked(url)
    if (topics.length === 0 || topics.length > MOST_TOPICS) {
      refuse(response, 400, TOPICS_WANTED)
      return
    }
    const house = await receiver.met()
    if (!house) {
      refuse(response.setHeader('retry-after', '3'), 503, NOT_MET)
      return
    }
    if (!topics.every((topic) => isAmong(house.topics, topic))) {
      // Who is staff, the house alone knows; so it does what no topic is.
      await handOn.pass(request, response)
      return
    }
    const address = addressOf(request, trustedProxy)
    if (!openFiles.hasRoom(fan.watching())) {
      refuse(response.setHeader('retry-after', '10'), 503, FULL_HOUSE)
      return
    }
    const leave = streams.take(address)
    if (!leave) {
      noteEvent(log, 'limit reached', { address, path: '/live' })
      refuse(response, 429, TOO_MANY_STREAMS)
      return
    }
    response.once('close', leave)
    try {
      await receiver.watch(response, topics, lastSeenIn(request.headers['last-event-id']))
    } catch {
      refuse(response.setHeader('retry-after', '3'), 503, receiver.trouble() ?? NOT_MET)
    }
  }

  const handle = async (request: IncomingMessage, response: ServerResponse) => {
    const url = enter(request, response)
    if (!url) return
    const { pathname } = url
    const isRead = request.method === 'GET' || request.method === 'HEAD'
    if (isRead && bringsBody(request.headers)) {
      refuse(response.setHeader('connection', 'close'), 400, NO_BODY)
      return
    }
    const now = receiver.trouble() === null ? receiver.now() : null
    if (pathname === '/live' && request.method === 'GET') await live(request, response, url)
    else if (pathname === LIVE_HERE && request.method === 'POST') {
      const token = url.searchParams.get('stream') ?? ''
      // A page may say it to another machine than the one that its stream comes from.
      if (!fan.hears(token)) receiver.passOn(token)
      response.writeHead(204, { 'cache-control': 'no-store' }).end()
    } else if (pathname === '/api/now' && isRead && now !== null) {
      response.writeHead(200, { 'content-type': 'application/json', 'cache-control': 'no-store' })
      response.end(JSON.stringify({ received: now, answered: receiver.now() ?? now }))
    } else if (pathname === '/api/health' && isRead) {
      const trouble = receiver.trouble()
      response.writeHead(trouble === null ? 200 : 503, { 'content-type': 'application/json', 'cache-control': 'no-store' })
      response.end(
        JSON.stringify({ ok: trouble === null, trouble, relay: build, house: receiver.house()?.build ?? null, watching: fan.watching() }),
      )
    } else if (isRead && receiver.house()?.build === build && (await files.give(pathname, request, response))) return
    else if (isRead) await shared.answer(request, response)
    else await handOn.pass(request, response)
  }

  return {
    door: (request: IncomingMessage, response: ServerResponse) => {
      handle(request, response).catch((reason) => {
        if (request.destroyed && !request.complete) return
        log.warn({ err: reason, path: request.url?.split('?')[0] }, 'the house could not be asked')
        if (response.headersSent || response.destroyed) response.destroy()
        else sayNotReached(response)
      })
    },
    close: () => handOn.close(),
  }
}
