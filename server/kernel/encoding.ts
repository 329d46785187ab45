export const ENCODINGS = ['UTF-8', 'UTF-16', 'Windows-1252'] as const
export type Encoding = (typeof ENCODINGS)[number] | 'pasted'

/** Text from a file's bytes. The encoding is told by its mark, by its noughts, or by whether it is UTF-8 at all; or it is given. */
export function decoded(source: Uint8Array | string, given?: (typeof ENCODINGS)[number]): { text: string; encoding: Encoding } {
  if (typeof source === 'string') return { text: source.replace(/^\uFEFF/, ''), encoding: 'pasted' }
  const order = utf16Order(source)
  if (given === 'UTF-16' || (given === undefined && order !== null)) {
    return { text: new TextDecoder(`utf-16${order ?? 'le'}`).decode(source), encoding: 'UTF-16' }
  }
  if (given === 'Windows-1252') return { text: new TextDecoder('windows-1252').decode(source), encoding: given }
  if (given === 'UTF-8') return { text: new TextDecoder('utf-8').decode(source), encoding: given }
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(source), encoding: 'UTF-8' }
  } catch (error) {
    if (!(error instanceof TypeError)) throw error
    return { text: new TextDecoder('windows-1252').decode(source), encoding: 'Windows-1252' }
  }
}

/** Which byte comes first in UTF-16: by the mark, or because every second byte of what is nearly Latin text is nought. */
function utf16Order(bytes: Uint8Array): 'le' | 'be' | null {
  const [first, second] = bytes
  if (first === 0xff && second === 0xfe) return 'le'
  if (first === 0xfe && second === 0xff) return 'be'
  const head = bytes.subarray(0, 200)
  if (head.length < 4) return null
  const noughts = (from: number) => head.filter((byte, index) => index % 2 === from && byte === 0).length / (head.length / 2)
  if (noughts(1) > 0.7 && noughts(0) < 0.1) return 'le'
  return noughts(0) > 0.7 && noughts(1) < 0.1 ? 'be' : null
}
