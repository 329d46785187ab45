import { randomUUID } from 'node:crypto'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { Refusal } from '#kernel/refusal'
import { playerOrigin } from '#people/campaign/campaign.service'
import { openTally } from '#runtime/call/tally'
import { lastSeenIn } from '#runtime/live/event-stream.rules'
import { topicFor } from '#runtime/live/live'
import { noteEvent } from '#runtime/settings/events'
import { givePage } from '../pages/give-page'
import { keepablePath } from '../pages/keepable.rules'
import type { KeptPages } from '../pages/kept-pages'
import type { openOwnFiles } from '../pages/own-files'
import { REPORTS } from '../pages/page-policy.rules'
import { type Bodies, BodyRefusal, openBodies } from './bodies'
import { answerCall, CALLS } from './calls'
import { addressOf, contextFor, isPassedOn } from './context'
import { openData } from './data'
import { enter } from './enter'
import { hide, isOurOwn, openHeaders } from './headers'
import { giveKeptFile, takeKeptFile } from './kept-files'
import type { OpenHouse } from './open-house'
import { givePack } from './packs'
import { leaveOut } from './page-headers'
import { showPhotograph, takePhotograph } from './photographs'
import { giveRecording, takeRecording } from './recordings'
import { REFUSAL_STATUS, refuse } from './refuse'
import { takeReport } from './reports'
import { SECURITY_TXT, securityTxt } from './security-txt'
import { takeSignIn } from './sign-in-form'
import { FULL_HOUSE, LIVE_HERE, MOST_STREAMS, MOST_TOPICS, TOO_MANY_STREAMS, TOPICS_WANTED, topicsAsked } from './stream-limits'
import { LIVE_TOPICS } from './topics'
import { openTurns } from './turns'
import { answerFigures, answerHealth, answerReady } from './well'

/** Pages send their forms by script; a browser without it sends them to the page itself. */
const SCRIPTS_WANTED =
  'This form needs a browser that runs scripts, and nothing was stored. If yours does, the page had not finished loading: go back to it, reload it and send the form again. If not, switch scripts on first.'

const isForm = ({ headers }: IncomingMessage) => headers['content-type']?.startsWith('application/x-www-form-urlencoded') ?? false

/** What is still being sent after its answer is thrown away for so long, so that a browser hears the answer. */
const LONGEST_REST_MS = 5_000

/** No reader's line has a part in how long a page for everybody takes: its turn lasts as long as it is made, so no more are under way at once. */
const LONGEST_MAKING_MS = 30_000

export interface DoorParts {
  house: OpenHouse
  trustedProxy: 'none' | 'x-forwarded-for'
  isDev: boolean
  /** Whom to tell of a weakness; without it the house names nobody. */
  securityContact?: string
  /** Who says it may read the house's figures; without it nobody may. */
  metricsKey?: string
  /** Everything that is a page. */
  pages(request: IncomingMessage, response: ServerResponse): Promise<void>
  /** Those of them that are the same for everybody who is not signed in; without it each is made for whoever asks. */
  keptPages?: KeptPages | null
  /** Files of the build; without it the pages' own program gives them. */
  files?: ReturnType<typeof openOwnFiles> | null
  bodies?: Bodies
}

/** The one door: /live to the hub, /api/trpc to the procedures, public data by table, photographs, and the rest to the pages. */
export function openDoor(parts: DoorParts) {
  const { house, trustedProxy, isDev, pages, keptPages = null, files = null, bodies = openBodies() } = parts
  const { forPage } = openHeaders({ publicUrl: house.publicUrl, isDev })
  const data = openData(house)
  const streams = openTally(MOST_STREAMS)
  const turns = openTurns()
  /** Pages for everybody are made beside what this thread makes. */
  const keptTurns = openTurns({ longestMs: LONGEST_MAKING_MS })

  const refuseTooMany = (request: IncomingMessage, response: ServerResponse) => {
    noteEvent(house.log, 'limit reached', { address: addressOf(request, trustedProxy), path: request.url?.split('?')[0] ?? '' })
    refuse(response.setHeader('retry-after', '2'), 429, 'Too much is being asked from your address at once. Try again in a moment.')
  }

  /** A page that is the same for everybody, to somebody who is nobody in particular; false for any other. */
  const keptPage = async (request: IncomingMessage, response: ServerResponse): Promise<boolean> => {
    const path = keptPages && keepablePath(request)
    if (!path || house.signIn.sessionOf(request.headers.cookie ?? '')) return false
    try {
      const page = await keptPages.get(path, addressOf(request, trustedProxy), keptTurns.take)
      if (page === 'too many') refuseTooMany(request, response)
      else if (page && !response.destroyed) givePage(request, response, page, house.publicUrl)
      return page !== null
    } catch (reason) {
      house.log.error({ err: reason, path }, 'a page for everybody could not be made; it is made for whoever asks')
      return false
    }
  }

  /** Makes what is read when its turn comes. */
  const inTurn = async (request: IncomingMessage, response: ServerResponse, make: () => Promise<void>) => {
    const done = await turns.take(addressOf(request, trustedProxy))
    if (!done) {
      refuseTooMany(request, response)
      return
    }
    const { end } = response
    // The answer has been made when its last words are written, however slowly they are read.
    response.end = ((...words: Parameters<typeof end>) => {
      done()
      return end.apply(response, words)
    }) as typeof end
    try {
      if (!response.destroyed) await make()
    } finally {
      done()
    }
  }

  const call = async (request: IncomingMessage, response: ServerResponse) => {
    const isMutation = request.method === 'POST'
    if (isMutation && (!isOurOwn(request, house.publicUrl) || !request.headers['content-type']?.startsWith('application/json'))) {
      refuse(response, 403, `This is taken from our own pages only, at ${house.publicUrl}.`)
      return
    }
    const address = addressOf(request, trustedProxy)
    const context = () =>
      contextFor(house, {
        cookies: request.headers.cookie ?? '',
        userAgent: request.headers['user-agent'],
        address,
        setCookie: (header) => response.appendHeader('set-cookie', header),
      })
    const answer = () => answerCall(request, response, { bodies, address, context })
    // Whoever bids, reads a meter or pays does not wait for whoever only reads.
    if (isMutation) await answer()
    else await inTurn(request, response, answer)
  }

  const live = async (request: IncomingMessage, response: ServerResponse, url: URL) => {
    const names = topicsAsked(url)
    const topics = names.map((name) => topicFor(LIVE_TOPICS, name))
    if (names.length === 0 || names.length > MOST_TOPICS || topics.some((topic) => !topic)) {
      refuse(response, 400, TOPICS_WANTED)
      return
    }
    const isForStaff = topics.some((topic) => topic?.audience === 'staff')
    const mayStill = isForStaff ? house.signIn.staffWatch(request.headers.cookie ?? '') : undefined
    if (mayStill === null) {
      noteEvent(house.log, 'refused', { address: addressOf(request, trustedProxy), path: '/live' })
      refuse(response, 403, 'That is for the staff.')
      return
    }
    if (!house.openFiles.hasRoom(house.hub.watching())) {
      refuse(response.setHeader('retry-after', '10'), 503, FULL_HOUSE)
      return
    }
    const leave = streams.take(addressOf(request, trustedProxy))
    if (!leave) {
      noteEvent(house.log, 'limit reached', { address: addressOf(request, trustedProxy), path: '/live' })
      refuse(response, 429, TOO_MANY_STREAMS)
      return
    }
    response.once('close', leave)
    house.hub.watch(response, names, lastSeenIn(request.headers['last-event-id']), mayStill)
  }

  const handle = async (request: IncomingMessage, response: ServerResponse) => {
    if (trustedProxy === 'none' && !house.unnamedProxy.isThere() && isPassedOn(request)) house.unnamedProxy.found()
    // First, and by its beginning alone: a bid does not wait until all of an address has been read.
    if (request.url?.startsWith(CALLS)) {
      await call(request, response)
      return
    }
    const url = enter(request, response)
    if (!url) return
    if (await keptPage(request, response)) return
    const { pathname } = url
    const isRead = request.method === 'GET' || request.method === 'HEAD'
    if (pathname === '/yours' || pathname === '/keep') hide(response)
    if (pathname === '/api/now' && isRead) {
      // Both stamps of RFC 5905's exchange; what lies between them is our own time.
      const received = house.clock.now()
      response.writeHead(200, { 'content-type': 'application/json', 'cache-control': 'no-store' })
      response.end(JSON.stringify({ received, answered: house.clock.now() }))
    } else if (pathname === '/api/health') answerHealth(house, response)
    else if (pathname === '/api/ready' && isRead) answerReady(house, response)
    else if (pathname === '/metrics' && isRead) await answerFigures(house, request, response, parts.metricsKey)
    else if (pathname === SECURITY_TXT && isRead) {
      const text = securityTxt(parts.securityContact, house.publicUrl, house.clock.now())
      if (text === null) refuse(response, 404, 'This house gives no contact address.')
      else response.writeHead(200, { 'content-type': 'text/plain; charset=utf-8', 'cache-control': 'public, max-age=86400' }).end(text)
    } else if (pathname === REPORTS && request.method === 'POST') {
      await takeReport(house, request, response, { bodies, address: addressOf(request, trustedProxy) })
    } else if (pathname === '/sign-in' && request.method === 'POST') {
      await takeSignIn(house, request, response, { bodies, address: addressOf(request, trustedProxy) })
    } else if (pathname === '/live' && request.method === 'GET') await live(request, response, url)
    else if (pathname === LIVE_HERE && request.method === 'POST') {
      // Whether it is a stream of this house makes no difference to whoever says so.
      house.hub.hears(url.searchParams.get('stream') ?? '')
      response.writeHead(204, { 'cache-control': 'no-store' }).end()
    } else if (pathname === '/files/photographs' && request.method === 'POST') {
      await takePhotograph(house, request, response, { bodies, address: addressOf(request, trustedProxy) })
    } else if (pathname === '/files/recordings' && request.method === 'POST') {
      await takeRecording(house, request, response, { bodies, address: addressOf(request, trustedProxy) })
    } else if (pathname === '/files/sweeps' && request.method === 'POST') {
      await takeKeptFile(house, request, response, { bodies, address: addressOf(request, trustedProxy) }, 'csv')
    } else if (pathname === '/files/images' && request.method === 'POST') {
      await takeKeptFile(house, request, response, { bodies, address: addressOf(request, trustedProxy) }, 'bin')
    } else if (pathname.startsWith('/files/') && isRead) {
      const isGiven =
        showPhotograph(house, request, pathname, response) ||
        giveRecording(house, request, pathname, response) ||
        giveKeptFile(house, request, pathname, response)
      if (!isGiven) refuse(response, 404, 'There is no such photograph or recording.')
    } else if (/^\/bench\/close-out\/packs\/.+\.zip$/.test(pathname) && isRead) {
      if (!(await givePack(house, request, pathname, response))) refuse(response, 404, 'There is no such pack here.')
    } else if (pathname.startsWith('/_next/image')) refuse(response, 404, 'There is nothing here.')
    else if (isRead && (await data(request, response, url))) return
    // Pages are read; what changes something is a call. Development's own tools ask otherwise.
    else if (isRead || isDev) {
      const isFile = /\.[a-z0-9]+$/i.test(pathname)
      if (isFile && isRead && (await files?.give(pathname, request, response))) return
      leaveOut(request)
      // Of the files some are workers, which fetch under the policy that their script came with.
      forPage(request, response, playerOrigin(house.sight()))
      // What is no file of the build is a page that has to be made, whatever its address ends in.
      if (isFile && !files) await pages(request, response)
      else await inTurn(request, response, () => pages(request, response))
    } else refuse(response, 404, isForm(request) ? SCRIPTS_WANTED : 'Nothing here takes what you sent.')
  }

  /** What an address refuses because of who asks; a place that is not there is no event. */
  const noteRefusal = (request: IncomingMessage, { code }: Refusal) => {
    const facts = { address: addressOf(request, trustedProxy), path: request.url?.split('?')[0] ?? '' }
    if (code === 'too-many') noteEvent(house.log, 'limit reached', facts)
    else if (code === 'not-signed-in' || code === 'not-yours-to-do' || code === 'confirm-first')
      noteEvent(house.log, 'refused', { ...facts, code })
  }

  return (request: IncomingMessage, response: ServerResponse) => {
    // Whoever was answered before all of a body had come does not stay.
    response.once('finish', () => {
      if (!request.complete) setTimeout(() => request.complete || request.destroy(), LONGEST_REST_MS).unref()
    })
    handle(request, response).catch((reason) => {
      if (reason instanceof Refusal && !response.headersSent) {
        noteRefusal(request, reason)
        refuse(response, reason instanceof BodyRefusal ? reason.status : REFUSAL_STATUS[reason.code], reason.message)
        return
      }
      // Whoever asked has left; there is nobody to answer, and nothing has failed.
      if (request.destroyed && !request.complete) return
      const reference = randomUUID().slice(0, 8)
      house.log.error({ err: reason, reference, path: request.url?.split('?')[0] }, 'a request failed')
      if (response.headersSent) response.destroy()
      else refuse(response, 500, `Something went wrong on our side. Reference ${reference}.`)
    })
  }
}
