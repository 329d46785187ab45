import decodeQR from 'qr/decode.js'

/** Wide enough for a label held at arm's length, small enough for an old phone to look at several times a second. */
const LONGEST = 640

/** What the code on a frame or picture says, or null where none is found. It never leaves this browser. */
export function readCode(source: CanvasImageSource, width: number, height: number): string | null {
  const scale = Math.min(1, LONGEST / Math.max(width, height, 1))
  const canvas = document.createElement('canvas')
  canvas.width = Math.max(1, Math.round(width * scale))
  canvas.height = Math.max(1, Math.round(height * scale))
  const pen = canvas.getContext('2d', { willReadFrequently: true })
  if (!pen) return null
  pen.drawImage(source, 0, 0, canvas.width, canvas.height)
  try {
    return decodeQR(pen.getImageData(0, 0, canvas.width, canvas.height))
  } catch {
    // No code on this one; the next frame may show it.
    return null
  }
}
