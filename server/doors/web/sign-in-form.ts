import type { IncomingMessage, ServerResponse } from 'node:http'
import { getTRPCErrorFromUnknown, getTRPCErrorShape } from '@trpc/server'
import { onwardPath } from '#kernel/onward'
import { Refusal } from '#kernel/refusal'
import { ASKED_COOKIE, type Asked, askedCookie, readAsked } from '#people/sign-in/asked-cookie.rules'
import { readCookie } from '#runtime/call/browser-cookie'
import { createCaller, rootRouter } from '../trpc/root'
import { type Bodies, type BodyLimit, MOST_CALL_BYTES } from './bodies'
import { contextFor } from './context'
import { isOurOwn } from './headers'
import type { OpenHouse } from './open-house'
import { refuse } from './refuse'

const SIZE: BodyLimit = {
  mostBytes: MOST_CALL_BYTES,
  tooLarge: Refusal.at('email', 'That is too long for a sign-in form.', 'too-large'),
}

/**
 * POST /sign-in: the form as a browser sends it that runs no scripts. Both steps call what the page's own script calls, so
 * that the same limits hold, and lead back to the page, which says what came of it; nothing that was typed is in an address.
 */
export async function takeSignIn(
  house: OpenHouse,
  request: IncomingMessage,
  response: ServerResponse,
  { bodies, address }: { bodies: Bodies; address: string },
): Promise<void> {
  if (!isOurOwn(request, house.publicUrl)) {
    refuse(response, 403, `This is taken from our own pages only, at ${house.publicUrl}.`)
    return
  }
  const form = new URLSearchParams((await bodies.read(request, address, SIZE)).toString('utf8'))
  const cookies = request.headers.cookie ?? ''
  const setCookie = (header: string) => response.appendHeader('set-cookie', header)
  const onward = onwardPath(form.get('next'), house.publicUrl)
  const withNext = (path: string) => (onward === null ? path : `${path}?next=${encodeURIComponent(onward)}`)
  const lead = (to: string, asked: Asked | null) => {
    setCookie(askedCookie(asked, house.publicUrl))
    response.writeHead(303, { location: to, 'cache-control': 'no-store' }).end()
  }
  if (form.has('again')) {
    lead(withNext('/sign-in'), null)
    return
  }
  const ctx = await contextFor(house, { cookies, userAgent: request.headers['user-agent'], address, setCookie })
  const caller = createCaller(ctx)
  const email = form.get('email') ?? ''
  const code = form.get('code')
  try {
    if (code === null) {
      const sent = await caller.people.askCode({ email })
      lead(withNext('/sign-in'), { ...sent, isSent: true, refused: null })
      return
    }
    const { role, hasPaddle } = await caller.people.enterCode({ email, code })
    lead(role === 'bidder' && !hasPaddle ? withNext('/paddle') : (onward ?? '/sign-in'), null)
  } catch (reason) {
    const error = getTRPCErrorFromUnknown(reason)
    const { data } = getTRPCErrorShape({ config: rootRouter._def._config, error, type: 'mutation', path: undefined, input: undefined, ctx })
    if (data.refusal === 'fault') throw reason
    const demoCode = readAsked(readCookie(cookies, ASKED_COOKIE))?.demoCode ?? null
    lead(withNext('/sign-in'), { email, isSent: code !== null, demoCode, refused: { words: data.words, fields: data.fields } })
  }
}
