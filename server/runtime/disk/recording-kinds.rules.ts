/** What of sound and video is taken: what browsers play without asking anybody. The key is how its file ends. */
export const RECORDING_TYPES = {
  mp4: 'video/mp4',
  webm: 'video/webm',
  m4a: 'audio/mp4',
  mp3: 'audio/mpeg',
  ogg: 'audio/ogg',
  wav: 'audio/wav',
} as const
export type RecordingKind = keyof typeof RECORDING_TYPES

export const isSound = (kind: RecordingKind): boolean => RECORDING_TYPES[kind].startsWith('audio/')

/** Under which kind a file is kept whose content is of this type, as `file-type` names it; null for what is not taken. */
export function recordingKindOf(mime: string | undefined): RecordingKind | null {
  const [type = ''] = (mime ?? '').split(';')
  return KINDS[type] ?? null
}

const KINDS: Record<string, RecordingKind> = {
  'video/mp4': 'mp4',
  'video/x-m4v': 'mp4',
  'video/webm': 'webm',
  'audio/x-m4a': 'm4a',
  'audio/mpeg': 'mp3',
  'audio/ogg': 'ogg',
  'audio/wav': 'wav',
}
