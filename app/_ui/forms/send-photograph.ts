export interface Photograph {
  sha: string
  width: number
  height: number
}

/** Why a picture was not taken; `status` is null when the house was not reached. */
export interface NotTaken {
  words: string
  status: number | null
}

const LOST = 'The photograph did not get through. Check the connection and take it again.'

/** Sends a picture at once; its bytes are the whole request. */
export async function sendPhotograph(file: Blob): Promise<Photograph | NotTaken> {
  let answer: Response
  try {
    answer = await fetch('/files/photographs', { method: 'POST', body: file, headers: { 'content-type': file.type || 'image/jpeg' } })
  } catch (cause) {
    if (cause instanceof TypeError) return { words: LOST, status: null }
    throw cause
  }
  const body: unknown = await answer.json().catch(() => null)
  if (answer.ok && isPhotograph(body)) return body
  return { words: wordsOf(body) ?? LOST, status: answer.status }
}

const isPhotograph = (body: unknown): body is Photograph =>
  typeof body === 'object' && body !== null && 'sha' in body && typeof body.sha === 'string' && 'width' in body && 'height' in body

const wordsOf = (body: unknown): string | null =>
  typeof body === 'object' && body !== null && 'words' in body && typeof body.words === 'string' ? body.words : null
