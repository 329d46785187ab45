import type { ServerResponse } from 'node:http'
import type { RefusalCode } from '#kernel/refusal'

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
  unconfirmed: 503,
} as const satisfies Record<RefusalCode, number>

/** Answers in words, kept by no cache. True, for whoever asks whether there was an answer. */
export function refuse(response: ServerResponse, status: number, words: string, fields?: Record<string, string>): true {
  response
    .writeHead(status, { 'content-type': 'application/json; charset=utf-8', 'cache-control': 'no-store' })
    .end(JSON.stringify(fields ? { words, fields } : { words }))
  return true
}
