import { createHash } from 'node:crypto'
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { Refusal } from '#kernel/refusal'
import { MOST_PHOTOGRAPH_BYTES, writeSynced } from './files'
import { soundAndPictureOf } from './mp4-plain.rules'
import { type RecordingKind, recordingKindOf } from './recording-kinds.rules'
import { freeOn } from './spare'

/** As much as a photograph: short files, which come over the same line. */
export const MOST_RECORDING_BYTES = MOST_PHOTOGRAPH_BYTES
export const TOO_LARGE_RECORDING = 'A recording may have 15 MB at most. Make it shorter, or record it smaller.'
const LEFT_FOR_OTHERS_BYTES = 64 * 1024 * 1024
const NEARLY_FULL =
  'The disk of this house is nearly full, so recordings wait until there is room. Everything else goes on; tell the maker.'
const NOT_TAKEN = 'This is not a recording that every browser can play. Send an MP4 or WebM video, or MP3, M4A, Ogg or WAV sound.'
const QUICKTIME = 'This is a QuickTime video, which many browsers cannot play. Save it as MP4, or set the camera to “most compatible”.'
const NOT_READ =
  'This MP4 file breaks off, or is built so that the house cannot tell sound and picture from what else is in it. Save or export it as MP4 again.'
const HEVC =
  'This video is recorded in HEVC (H.265), which many browsers cannot play. Set the camera to “most compatible”, or save it as H.264.'

export interface KeptRecording {
  sha: string
  kind: RecordingKind
  bytes: number
}

export interface RecordingFolder {
  /** Keeps a recording under the hash of what came, known by its content; refuses what is none. */
  keep(bytes: Uint8Array): Promise<KeptRecording>
  /** The file of a recording, or null. */
  find(sha: string, kind: RecordingKind): string | null
}

/** Recordings lie beside the photographs, so that whatever carries those carries them too. */
export function openRecordings(dir: string, free: (dir: string) => number = freeOn): RecordingFolder {
  return {
    async keep(bytes) {
      if (bytes.byteLength === 0) throw Refusal.at('recording', 'The recording is empty. Record it again.')
      if (bytes.byteLength > MOST_RECORDING_BYTES) throw Refusal.at('recording', TOO_LARGE_RECORDING, 'too-large')
      if (free(dir) < LEFT_FOR_OTHERS_BYTES) throw Refusal.at('recording', NEARLY_FULL, 'no-room')
      const kind = await kindOf(bytes)
      const sha = createHash('sha256').update(bytes).digest('hex')
      const plain = kind === 'mp4' || kind === 'm4a' ? soundAndPictureOf(bytes) : bytes
      if (!plain) throw Refusal.at('recording', NOT_READ)
      try {
        await writeSynced(join(dir, `${sha}.${kind}`), plain)
      } catch (cause) {
        if (cause instanceof Error && 'code' in cause && cause.code === 'ENOSPC') throw Refusal.at('recording', NEARLY_FULL, 'no-room')
        throw cause
      }
      return { sha, kind, bytes: plain.byteLength }
    },
    find(sha, kind) {
      if (!/^[0-9a-f]{64}$/.test(sha)) return null
      const file = join(dir, `${sha}.${kind}`)
      return existsSync(file) ? file : null
    },
  }
}

/** Every kind that is taken is told by this beginning; further on whatever looks for it would only be kept busy. */
const TELLING_BYTES = 4096

/** Where sound begins behind what a program wrote before it, such as a name and the picture of a cover (ID3v2). */
function soundAt(bytes: Uint8Array): number {
  const isTag = bytes[0] === 0x49 && bytes[1] === 0x44 && bytes[2] === 0x33
  return isTag ? 10 + [6, 7, 8, 9].reduce((length, at) => length * 128 + ((bytes[at] ?? 0) & 127), 0) : 0
}

async function kindOf(bytes: Uint8Array): Promise<RecordingKind> {
  const { fileTypeFromBuffer } = await import('file-type')
  const from = soundAt(bytes)
  // A file that breaks off where its kind would be told is of no kind.
  const mime = await fileTypeFromBuffer(bytes.subarray(from, from + TELLING_BYTES)).then(
    (found) => found?.mime,
    () => undefined,
  )
  if (mime === 'video/quicktime') throw Refusal.at('recording', QUICKTIME)
  const kind = recordingKindOf(mime)
  if (!kind) throw Refusal.at('recording', NOT_TAKEN)
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  if (kind === 'mp4' && (text.includes('hvc1') || text.includes('hev1'))) throw Refusal.at('recording', HEVC)
  return kind
}
