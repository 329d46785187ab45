'use client'

export const NO_PICTURE = 'This is not a picture we can read. Take a photograph, or choose a JPEG, PNG or WebP.'

/** Small enough to wait on the device, and as wide as the house keeps it. Null when it is no picture. */
export async function shrinkPhoto(file: Blob): Promise<Blob | null> {
  const picture = await createImageBitmap(file).catch(() => null)
  if (!picture) return null
  const scale = Math.min(1, 1600 / Math.max(picture.width, picture.height))
  const canvas = document.createElement('canvas')
  canvas.width = Math.max(1, Math.round(picture.width * scale))
  canvas.height = Math.max(1, Math.round(picture.height * scale))
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height)
  picture.close()
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.82))
}
