'use client'

import type { api } from '#app/_trpc/client.ts'
import { makeKey } from '#app/_trpc/use-form-key.ts'
import { openDeviceBox, useDeviceBox, useIsKeptIn } from '#app/_ui/device-box.ts'
import { NO_PICTURE, shrinkPhoto } from '#app/_ui/forms/shrink-photo.ts'

type Taken = Parameters<typeof api.bringup.takeReading.mutate>[0]
type Corrected = Parameters<typeof api.bringup.correct.mutate>[0]

/** A reading exactly as it will be sent: the same key with the same content, however often. */
export type ReadingToSend = { is: 'taken' | 'searching'; content: Taken } | { is: 'correction'; content: Corrected }

/** What waits on this device: a reading with its photograph, or a photograph whose reading the house has already. */
export interface WaitingReading {
  /** The key that the photograph is added by. */
  key: string
  tag: string
  check: string | null
  /** What it is, for whoever looks: "5.02 V". */
  shown: string
  reading: ReadingToSend | null
  readingId: string | null
  photo: Blob | null
  words: string
  /** Why the house would not have it. */
  refused: string | null
}

interface ReadingBox {
  /** Photographs of readings that are being written, by the place where they are written. */
  photos: Record<string, Blob>
  waiting: WaitingReading[]
}

const readingBox = openDeviceBox<ReadingBox>({ name: 'tagstrip-readings', empty: () => ({ photos: {}, waiting: [] }) })

export const changeReadingBox = readingBox.change
export const useReadingBox = (): ReadingBox | null => useDeviceBox(readingBox)
export const useAreReadingsKept = (): boolean => useIsKeptIn(readingBox)

/** A photograph is made small and laid on this device, beside the reading that is being written. Answers in words where it is no picture. */
export async function keepPhoto(slot: string, file: Blob): Promise<string | null> {
  const small = await shrinkPhoto(file)
  if (small === null) return NO_PICTURE
  changeReadingBox((box) => ({ ...box, photos: { ...box.photos, [slot]: small } }))
  return null
}

/** Lays it by until the house has it; the photograph in `slot` goes with it. */
export function layBy(one: Pick<WaitingReading, 'tag' | 'check' | 'shown' | 'reading' | 'readingId'>, slot: string): void {
  changeReadingBox((box) => {
    const { [slot]: photo = null, ...photos } = box.photos
    if (photo === null && one.reading === null) return box
    return { photos, waiting: [...box.waiting, { ...one, key: makeKey(), photo, words: '', refused: null }] }
  })
}

/** A picture by itself, of a check or of the machine. */
export const layByPicture = (one: Pick<WaitingReading, 'tag' | 'check' | 'shown' | 'words'> & { photo: Blob }): void =>
  changeReadingBox((box) => ({
    ...box,
    waiting: [...box.waiting, { ...one, key: makeKey(), reading: null, readingId: null, refused: null }],
  }))
