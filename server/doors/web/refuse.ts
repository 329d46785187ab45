import type { IncomingMessage, ServerResponse } from 'node:http'
import type { RefusalCode } from '#kernel/refusal'
import { REFUSAL_PAGE_POLICY, refusalPage } from './refusal-page.rules'

/** The status with which each kind of refusal leaves by the door. */
export const REFUSAL_STATUS = {
  'not-signed-in': 401,
  'confirm-first': 403,
  'not-yours-to-do': 403,
  'not-found': 404,
  'bad-input': 400,
  conflict: 409,
  'too-early': 412,
  'too-late': 412,
  'too-many': 429,
  'too-large': 413,
  'gate-closed': 412,
  'on-hold': 412,
  'no-room': 507,
  'file-held': 503,
  unconfirmed: 503,
} as const satisfies Record<RefusalCode, number>

/** A browser that shows the answer to somebody: it sent a form, or followed a link. Programs and our own scripts ask for something else. */
const isForPerson = (request: IncomingMessage | undefined): boolean => request?.headers.accept?.startsWith('text/html') ?? false

/** The page that a form was sent from: forms are sent to where they stand, or to a page of ours that holds one. */
const pageOf = ({ method, url = '/' }: IncomingMessage): string | null => {
  const path = url.split('?')[0] ?? '/'
  return method === 'POST' && /^\/(?!\/)/.test(path) && !path.startsWith('/api/') ? path : null
}

/**
 * Answers in words, kept by no cache: as a page to whoever sits before a browser, and otherwise as JSON. True, for whoever asks
 * whether there was an answer.
 */
export function refuse(response: ServerResponse, status: number, words: string, fields?: Record<string, string>): true {
  const request: IncomingMessage | undefined = response.req
  response.setHeader('cache-control', 'no-store')
  if (isForPerson(request)) {
    response
      .setHeader('content-security-policy', REFUSAL_PAGE_POLICY)
      .writeHead(status, { 'content-type': 'text/html; charset=utf-8' })
      .end(refusalPage(words, pageOf(request)))
    return true
  }
  response
    .writeHead(status, { 'content-type': 'application/json; charset=utf-8' })
    .end(JSON.stringify(fields ? { words, fields } : { words }))
  return true
}
