'use client'

import { api } from '#app/_trpc/client.ts'
import { type Refused, refusedBy } from '#app/_trpc/use-command.ts'
import { sendPhotograph } from '#app/_ui/forms/send-photograph.ts'
import type { ParcelIn, ParcelKept } from '#gifts/parcels/parcel.contract'
import { atPlaces } from './draft.rules'

export type Sent =
  | { is: 'kept'; kept: ParcelKept }
  | { is: 'refused'; refusal: Refused }
  | { is: 'unreached' }
  /** The session has run out: the parcel waits until somebody signs in on this phone. */
  | { is: 'signed-out' }

/**
 * Sends a parcel, its photograph first. The key goes with it each time and the content is the same each time, so that
 * what the house had already is answered and not logged again.
 */
export async function sendParcel(
  { parcel, places }: { parcel: ParcelIn; places: readonly number[] },
  photo: Blob | undefined,
): Promise<Sent> {
  let whole = parcel
  if (photo) {
    const sent = await sendPhotograph(photo)
    if ('sha' in sent) whole = { ...parcel, photoSha: sent.sha }
    else if (sent.status === 401) return { is: 'signed-out' }
    else if (sent.status === null || sent.status >= 500) return { is: 'unreached' }
    else return { is: 'refused', refusal: { words: sent.words, fields: { photoSha: sent.words }, code: null, unreached: false } }
  }
  try {
    return { is: 'kept', kept: await api.parcels.log.mutate(whole) }
  } catch (reason) {
    const refusal = refusedBy(reason)
    // A fault on the house's side is no answer to the parcel: it waits, and is sent again.
    if (refusal.unreached || refusal.code === 'fault') return { is: 'unreached' }
    if (refusal.code === 'not-signed-in') return { is: 'signed-out' }
    return { is: 'refused', refusal: { ...refusal, fields: atPlaces(refusal.fields, places) } }
  }
}
