import type { EvidenceEnding, EvidenceKind } from '#bench/units/evidence.contract'
import { sendPhotograph } from './send-photograph'
import { sendRecording } from './send-recording'

export interface SentEvidence {
  kind: EvidenceKind
  sha: string
  ending: EvidenceEnding
}

const LOST = 'The file did not get through. Check the connection and send it again.'

/** What a file is taken for, by its type and the end of its name; the house looks at what is in it. */
export function evidenceKindOf({ name, type }: { name: string; type: string }): EvidenceKind {
  if (type.startsWith('image/')) return 'picture'
  if (type.startsWith('audio/') || type.startsWith('video/')) return 'recording'
  return /\.(?:csv|tsv|txt)$/i.test(name) ? 'sweep' : 'firmware'
}

/** Sends a file of evidence; `status` of what was not taken is null where the house was not reached. */
export async function sendEvidence(file: File, kind: EvidenceKind): Promise<SentEvidence | { words: string; status: number | null }> {
  if (kind === 'picture') {
    const sent = await sendPhotograph(file)
    return 'sha' in sent ? { kind, sha: sent.sha, ending: 'webp' } : sent
  }
  if (kind === 'recording') {
    const sent = await sendRecording(file, { signal: new AbortController().signal, onProgress: () => {} })
    return 'sha' in sent ? { kind, sha: sent.sha, ending: sent.kind } : { ...sent, status: 400 }
  }
  const path = kind === 'sweep' ? '/files/sweeps' : '/files/images'
  let answer: Response
  try {
    answer = await fetch(path, { method: 'POST', body: file, headers: { 'content-type': 'application/octet-stream' } })
  } catch (cause) {
    if (cause instanceof TypeError) return { words: LOST, status: null }
    throw cause
  }
  const body = (await answer.json().catch(() => ({}))) as { sha?: string; words?: string }
  return answer.ok && body.sha
    ? { kind, sha: body.sha, ending: kind === 'sweep' ? 'csv' : 'bin' }
    : { words: body.words ?? LOST, status: answer.status }
}
