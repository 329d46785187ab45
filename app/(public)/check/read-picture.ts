import decodeQR from 'qr/decode.js'

const LONGEST_SIDE = 1600

/** What the code on a picture says, or null where none is found. Nothing of the picture leaves this browser. */
export async function readPicture(picture: Blob): Promise<string | null> {
  const bitmap = await createImageBitmap(picture).catch(() => null)
  if (!bitmap) return null
  // A large photograph hides a code in its own noise; smaller, the modules run together into clean squares.
  for (const longest of [LONGEST_SIDE, 900, 500]) {
    const said = readAt(bitmap, longest)
    if (said !== null) return said
  }
  return null
}

function readAt(bitmap: ImageBitmap, longest: number): string | null {
  const scale = Math.min(1, longest / Math.max(bitmap.width, bitmap.height))
  const canvas = document.createElement('canvas')
  canvas.width = Math.max(1, Math.round(bitmap.width * scale))
  canvas.height = Math.max(1, Math.round(bitmap.height * scale))
  const pen = canvas.getContext('2d', { willReadFrequently: true })
  if (!pen) return null
  pen.drawImage(bitmap, 0, 0, canvas.width, canvas.height)
  try {
    return decodeQR(pen.getImageData(0, 0, canvas.width, canvas.height))
  } catch {
    // No code at this size.
    return null
  }
}
