import { statSync } from 'node:fs'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { recording } from '#db/schema/index'
import { Refusal } from '#kernel/refusal'
import { RECORDING_TYPES, type RecordingKind } from '#runtime/disk/recording-kinds.rules'
import { MOST_RECORDING_BYTES, TOO_LARGE_RECORDING } from '#runtime/disk/recordings'
import { rangeAsked } from './byte-range.rules'
import type { OpenHouse } from './open-house'
import { streamFile } from './stream-file'
import { type Incoming, takeFile } from './take-file'

/** POST /files/recordings: the body is sound or video. Staff only; kept on disk before the row that names it. */
export const takeRecording = (house: OpenHouse, request: IncomingMessage, response: ServerResponse, incoming: Incoming): Promise<void> =>
  takeFile(house, request, response, {
    ...incoming,
    path: '/files/recordings',
    limit: { mostBytes: MOST_RECORDING_BYTES, tooLarge: Refusal.at('recording', TOO_LARGE_RECORDING, 'too-large') },
    refuseOthers: () => {
      throw new Refusal('not-yours-to-do', 'Recordings are added by the staff.')
    },
    keep: async (bytes, byPersonId) => {
      const kept = await house.recordings.keep(bytes)
      await house.queue.run((turn) =>
        turn.db
          .insert(recording)
          .values({ ...kept, at: turn.now, byPersonId })
          .onConflictDoNothing()
          .run(),
      )
      return kept
    },
  })

/** A browser shows such an answer on a page of its own, which plays what it was made from and nothing else. */
const PLAYER_POLICY =
  "default-src 'none'; media-src 'self'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

/** GET and HEAD /files/<sha>.<kind>, whole or a range of it; named by content, so it may be kept for ever. */
export function giveRecording(house: OpenHouse, request: IncomingMessage, path: string, response: ServerResponse): boolean {
  const match = /^\/files\/([0-9a-f]{64})\.(mp4|webm|m4a|mp3|ogg|wav)$/.exec(path)
  const [, sha = '', kind = ''] = match ?? []
  const file = match && house.recordings.find(sha, kind as RecordingKind)
  if (!file) return false
  const { size } = statSync(file)
  const tag = `"${sha}"`
  // A part of something else than what the reader has the rest of would be no part of it (RFC 9110, 13.1.5).
  const isSame = request.headers['if-range'] === undefined || request.headers['if-range'] === tag
  const asked = isSame ? rangeAsked(request.headers.range, size) : 'all'
  response.setHeader('content-type', RECORDING_TYPES[kind as RecordingKind])
  response.setHeader('content-security-policy', PLAYER_POLICY)
  response.setHeader('accept-ranges', 'bytes')
  response.setHeader('etag', tag)
  response.setHeader('cache-control', 'public, max-age=31536000, immutable')
  if (asked === 'none') {
    response.writeHead(416, { 'content-range': `bytes */${size}`, 'cache-control': 'no-store' }).end()
    return true
  }
  const { first, last } = asked === 'all' ? { first: 0, last: size - 1 } : asked
  response.setHeader('content-length', last - first + 1)
  if (asked === 'all') response.writeHead(200)
  else response.writeHead(206, { 'content-range': `bytes ${first}-${last}/${size}` })
  streamFile(request, response, file, { start: first, end: last })
  return true
}
