export interface Errand {
  from: string
  to: string
}

/** Where a copy lies. Paths are relative and have slashes; whatever fails throws in words. */
export interface Place {
  /** Paths of all files below a folder of it; none where there is no such folder. */
  list(below: string): Promise<string[]>
  /** A small file, whole; null where there is none. */
  read(path: string): Promise<Buffer | null>
  write(path: string, bytes: Uint8Array): Promise<void>
  /** Puts files of this machine there: each whole or not at all. */
  put(errands: readonly Errand[]): Promise<void>
  /** Brings files here. */
  fetch(errands: readonly Errand[]): Promise<void>
  /** What is not there any more is no error. */
  remove(paths: readonly string[]): Promise<void>
  close(): Promise<void>
}
