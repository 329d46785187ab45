import { randomUUID } from 'node:crypto'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { Refusal } from '#kernel/refusal'
import { isStaff } from '#kernel/role'
import { matchAddress } from '#runtime/call/address'
import { topicFor } from '#runtime/live/live'
import { ADDRESSES } from './addresses'
import { answerCall, CALLS } from './calls'
import { addressOf, contextFor } from './context'
import { hide, isOurOwn, secure } from './headers'
import type { OpenHouse } from './open-house'
import { givePack } from './packs'
import { showPhotograph, takePhotograph } from './photographs'
import { LIVE_TOPICS } from './topics'

const MOST_TOPICS = 50

export interface DoorParts {
  house: OpenHouse
  trustedProxy: 'none' | 'x-forwarded-for'
  isDev: boolean
  /** Everything that is a page. */
  pages(request: IncomingMessage, response: ServerResponse): Promise<void>
}

/** The one door: /live to the hub, /api/trpc to the procedures, public data by table, photographs, and the rest to the pages. */
export function openDoor({ house, trustedProxy, isDev, pages }: DoorParts) {
  const call = async (request: IncomingMessage, response: ServerResponse) => {
    const isMutation = request.method === 'POST'
    if (isMutation && (!isOurOwn(request, house.publicUrl) || !request.headers['content-type']?.startsWith('application/json'))) {
      refuse(response, 403, 'This is taken from our own pages only.')
      return
    }
    await answerCall(request, response, () =>
      contextFor(house, {
        cookies: request.headers.cookie ?? '',
        address: addressOf(request, trustedProxy),
        setCookie: (header) => response.appendHeader('set-cookie', header),
      }),
    )
  }

  const live = async (request: IncomingMessage, response: ServerResponse, url: URL) => {
    const names = [...new Set((url.searchParams.get('topics') ?? '').split(',').filter(Boolean))]
    const topics = names.map((name) => topicFor(LIVE_TOPICS, name))
    if (names.length === 0 || names.length > MOST_TOPICS || topics.some((topic) => !topic)) {
      refuse(response, 400, `Name what to follow, as in /live?topics=lots,meter; at most ${MOST_TOPICS}.`)
      return
    }
    if (topics.some((topic) => topic?.audience === 'staff')) {
      const actor = await house.signIn.whoIs(request.headers.cookie ?? '')
      if (!actor || !isStaff(actor.role)) {
        refuse(response, 403, 'That is for the staff.')
        return
      }
    }
    const last = Number(request.headers['last-event-id'])
    house.hub.watch(response, names, request.headers['last-event-id'] !== undefined && Number.isSafeInteger(last) ? last : null)
  }

  const data = async (request: IncomingMessage, response: ServerResponse, url: URL): Promise<boolean> => {
    const match = matchAddress(ADDRESSES, url.pathname)
    if (!match) return false
    const { audience } = match.address
    const actor = audience ? await house.signIn.whoIs(request.headers.cookie ?? '') : null
    if (audience && !actor) {
      refuse(response, 401, 'Sign in first; a code comes by mail.')
      return true
    }
    if (audience === 'staff' && !isStaff(actor?.role)) {
      refuse(response, 403, 'That is for the staff.')
      return true
    }
    const answer = match.address.answer(house.sight(), match.params, url.searchParams, actor)
    if (!answer) {
      refuse(response, 404, 'There is no such thing here.')
      return true
    }
    const { type, fileName } = answer
    const body = typeof answer.body === 'object' && 'print' in answer.body ? await house.press.print(answer.body.print) : answer.body
    response.writeHead(200, {
      'content-type': type,
      ...(audience
        ? { 'cache-control': 'private, no-store' }
        : { 'cache-control': `public, max-age=${answer.keepSeconds ?? 1}`, 'access-control-allow-origin': '*' }),
      'content-length': Buffer.byteLength(body),
      ...(fileName && { 'content-disposition': `inline; filename="${fileName}"` }),
    })
    response.end(request.method === 'HEAD' ? undefined : body)
    return true
  }

  const handle = async (request: IncomingMessage, response: ServerResponse) => {
    secure(response, isDev)
    // First, and by its beginning alone: a bid does not wait until all of an address has been read.
    if (request.url?.startsWith(CALLS)) {
      await call(request, response)
      return
    }
    const url = new URL(request.url ?? '/', 'http://house')
    const { pathname } = url
    const isRead = request.method === 'GET' || request.method === 'HEAD'
    if (pathname === '/yours') hide(response)
    if (pathname === '/api/now' && isRead) {
      // Both stamps of RFC 5905's exchange; what lies between them is our own time.
      const received = house.clock.now()
      response.writeHead(200, { 'content-type': 'application/json', 'cache-control': 'no-store' })
      response.end(JSON.stringify({ received, answered: house.clock.now() }))
    } else if (pathname === '/api/health') {
      const fine = house.brokenBy() === null
      response.writeHead(fine ? 200 : 503, { 'content-type': 'application/json', 'cache-control': 'no-store' })
      response.end(JSON.stringify({ ok: fine, now: new Date(house.clock.now()).toISOString(), watching: house.hub.watching() }))
    } else if (pathname === '/live' && request.method === 'GET') await live(request, response, url)
    else if (pathname === '/files/photographs' && request.method === 'POST') await takePhotograph(house, request, response)
    else if (pathname.startsWith('/files/') && isRead) {
      if (!showPhotograph(house, pathname, response)) refuse(response, 404, 'There is no such photograph.')
    } else if (/^\/bench\/close-out\/packs\/.+\.zip$/.test(pathname) && isRead) {
      if (!(await givePack(house, request, pathname, response))) refuse(response, 404, 'There is no such pack here.')
    } else if (pathname.startsWith('/_next/image')) refuse(response, 404, 'There is nothing here.')
    else if (isRead && (await data(request, response, url))) return
    else await pages(request, response)
  }

  return (request: IncomingMessage, response: ServerResponse) => {
    handle(request, response).catch((reason) => {
      if (reason instanceof Refusal && !response.headersSent) {
        refuse(response, reason.code === 'not-found' ? 404 : 400, reason.message)
        return
      }
      const reference = randomUUID().slice(0, 8)
      house.log.error({ err: reason, reference, path: request.url?.split('?')[0] }, 'a request failed')
      if (response.headersSent) response.destroy()
      else refuse(response, 500, `Something went wrong on our side. Reference ${reference}.`)
    })
  }
}

const refuse = (response: ServerResponse, status: number, words: string) => {
  response
    .writeHead(status, { 'content-type': 'application/json; charset=utf-8', 'cache-control': 'no-store' })
    .end(JSON.stringify({ words }))
}
