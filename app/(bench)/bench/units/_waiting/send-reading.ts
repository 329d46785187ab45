'use client'

import { api } from '#app/_trpc/client.ts'
import { refusedBy } from '#app/_trpc/use-command.ts'
import { sendPhotograph } from '#app/_ui/forms/send-photograph.ts'
import type { ReadingToSend, WaitingReading } from './reading-box'

export type Sent = { is: 'kept' } | { is: 'refused'; words: string } | { is: 'unreached' } | { is: 'signed-out' }

export const post = ({ is, content }: ReadingToSend) =>
  is === 'correction'
    ? api.bringup.correct.mutate(content)
    : is === 'searching'
      ? api.bringup.search.mutate(content)
      : api.bringup.takeReading.mutate(content)

/**
 * Sends a reading and then its photograph, each by its own key, so that what the house had already is answered and not
 * entered again. `onReading` is told of the reading as soon as the house has it.
 */
export async function sendWaiting(one: WaitingReading, onReading: (readingId: string) => void): Promise<Sent> {
  try {
    let { readingId } = one
    if (one.reading) {
      readingId = (await post(one.reading)).readingId
      onReading(readingId)
    }
    if (!one.photo) return { is: 'kept' }
    const sent = await sendPhotograph(one.photo)
    if (!('sha' in sent)) {
      if (sent.status === 401) return { is: 'signed-out' }
      return sent.status === null || sent.status >= 500 || sent.status === 429 ? { is: 'unreached' } : { is: 'refused', words: sent.words }
    }
    const place = readingId === null ? { check: one.check ?? undefined } : { readingId }
    await api.bringup.addEvidence.mutate({
      key: one.key,
      tag: one.tag,
      ...place,
      kind: 'picture',
      sha: sent.sha,
      ending: 'webp',
      words: one.words,
    })
    return { is: 'kept' }
  } catch (reason) {
    const { unreached, code, words } = refusedBy(reason)
    // A fault on the house's side is no answer to it: it waits, and is sent again.
    if (unreached || code === 'fault') return { is: 'unreached' }
    return code === 'not-signed-in' ? { is: 'signed-out' } : { is: 'refused', words }
  }
}
