'use client'

import type { ParcelKept } from '../../../../../server/parcels/parcel.contract'
import { api } from '../../../../_trpc/client'
import { type Refused, refusedBy } from '../../../../_trpc/use-command'
import { atPlaces, type Draft, type Known, toParcel } from './draft.rules'

export type Sent = { is: 'kept'; kept: ParcelKept } | { is: 'refused'; refusal: Refused } | { is: 'unreached' }

/**
 * Sends a parcel, its photograph first. The key goes with it each time, so that what the house had already
 * is answered and not logged again.
 */
export async function sendParcel(draft: Draft, known: Known): Promise<Sent> {
  let photoSha = draft.photoSha
  if (draft.photo !== null && photoSha === null) {
    const photograph = await sendPhoto(draft.photo)
    if (typeof photograph !== 'string') return photograph
    photoSha = photograph
  }
  const { parcel, places } = toParcel({ ...draft, photoSha }, known)
  try {
    return { is: 'kept', kept: await api.parcels.log.mutate(parcel) }
  } catch (reason) {
    const refusal = refusedBy(reason)
    return refusal.unreached ? { is: 'unreached' } : { is: 'refused', refusal: { ...refusal, fields: atPlaces(refusal.fields, places) } }
  }
}

async function sendPhoto(dataAddress: string): Promise<string | Exclude<Sent, { is: 'kept' }>> {
  const bytes = Uint8Array.from(atob(dataAddress.slice(dataAddress.indexOf(',') + 1)), (letter) => letter.charCodeAt(0))
  let answer: Response
  try {
    answer = await fetch('/files/photographs', { method: 'POST', body: bytes, headers: { 'content-type': 'image/jpeg' } })
  } catch (cause) {
    if (cause instanceof TypeError) return { is: 'unreached' }
    throw cause
  }
  const told = (await answer.json().catch(() => ({}))) as { sha?: string; words?: string }
  if (answer.ok && told.sha) return told.sha
  if (answer.status >= 500) return { is: 'unreached' }
  const words = told.words ?? 'The photograph was not taken. Take it again.'
  return { is: 'refused', refusal: { words, fields: { photoSha: words }, unreached: false } }
}

/** At most as wide as the house keeps it, and small enough to wait on the phone. Null when it is no picture. */
export async function shrinkPhoto(file: File): Promise<string | null> {
  const picture = await createImageBitmap(file).catch(() => null)
  if (!picture) return null
  const scale = Math.min(1, 1600 / Math.max(picture.width, picture.height))
  const canvas = document.createElement('canvas')
  canvas.width = Math.max(1, Math.round(picture.width * scale))
  canvas.height = Math.max(1, Math.round(picture.height * scale))
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height)
  picture.close()
  return canvas.toDataURL('image/jpeg', 0.82)
}
