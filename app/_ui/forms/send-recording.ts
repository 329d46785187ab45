import type { RecordingKind } from '#runtime/disk/recording-kinds.rules'

interface SentRecording {
  sha: string
  kind: RecordingKind
  bytes: number
}

const LOST = 'The recording did not get through. Check the connection and send it again.'

/** Sends sound or video at once and says how much of it has gone; `signal` stops it. A form's own sending tells no progress. */
export function sendRecording(
  file: Blob,
  { signal, onProgress }: { signal: AbortSignal; onProgress: (done: number) => void },
): Promise<SentRecording | { words: string }> {
  return new Promise((resolve) => {
    const request = new XMLHttpRequest()
    request.open('POST', '/files/recordings')
    request.responseType = 'json'
    request.setRequestHeader('content-type', file.type || 'application/octet-stream')
    request.upload.addEventListener('progress', ({ loaded, total }) => onProgress(total > 0 ? loaded / total : 0))
    request.addEventListener('load', () => {
      const body = (request.response ?? {}) as Partial<SentRecording> & { words?: string }
      const { sha, kind, bytes, words } = body
      resolve(request.status === 201 && sha && kind && bytes ? { sha, kind, bytes } : { words: words ?? LOST })
    })
    request.addEventListener('error', () => resolve({ words: LOST }))
    request.addEventListener('abort', () => resolve({ words: 'Stopped. Nothing was kept.' }))
    signal.addEventListener('abort', () => request.abort())
    request.send(file)
  })
}
