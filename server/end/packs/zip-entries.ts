import { once } from 'node:events'
import { type Entry, open, type ZipFile } from 'yauzl'

/** As many files as a pack may hold: ten thousand photographs at three widths, and as much again. */
export const MOST_ENTRIES = 50_000
const LONGEST_NAME_BYTES = 1600
const MOST_EXTRA_BYTES = 256
/** No deflated byte gives more than this. An entry that promises more was made by hand. */
const MOST_FROM_ONE_BYTE = 1032

const STORED = 0
const DEFLATED = 8

export interface Archive {
  zip: ZipFile
  entries: ReadonlyMap<string, Entry>
}

/** Opens an archive and reads its list of contents, and nothing else yet. Throws, in words, whatever in it nobody writes who means well. */
export async function openArchive(file: string): Promise<Archive> {
  const zip = await new Promise<ZipFile>((resolve, reject) =>
    open(file, { lazyEntries: true, autoClose: false, strictFileNames: true }, (reason, opened) => {
      if (opened) resolve(opened)
      else reject(new Error(`${file} cannot be read as a ZIP archive: ${reason?.message ?? 'it is not one'}.`, { cause: reason }))
    }),
  )
  try {
    return { zip, entries: await readEntries(zip) }
  } catch (reason) {
    zip.close()
    throw reason
  }
}

async function readEntries(zip: ZipFile): Promise<Map<string, Entry>> {
  if (zip.entryCount > MOST_ENTRIES)
    throw new Error(`The archive holds ${zip.entryCount} files; a pack may hold ${MOST_ENTRIES} at most. It was not opened.`)
  const entries = new Map<string, Entry>()
  const ended = once(zip, 'end')
  // What comes after the first error says nothing new, and an error that nobody hears ends the process.
  zip.on('error', () => {})
  zip.on('entry', (entry: Entry) => {
    const fault = entries.has(entry.fileName) ? 'stands in it twice' : faultOf(entry)
    if (fault !== null) {
      zip.emit('error', new Error(`${shortened(entry.fileName)} ${fault}`))
      return
    }
    entries.set(entry.fileName, entry)
    zip.readEntry()
  })
  zip.readEntry()
  await ended.catch((reason: Error) => {
    throw new Error(`The pack is damaged: its own list of contents cannot be read (${reason.message}).`, { cause: reason })
  })
  refuseOverlapping(entries, zip.fileSize)
  return entries
}

function faultOf(entry: Entry): string | null {
  if (entry.fileNameLength > LONGEST_NAME_BYTES || entry.extraFieldLength > MOST_EXTRA_BYTES || entry.fileCommentLength > 0)
    return 'has a longer name or more notes than a pack gives a file'
  if (entry.isEncrypted()) return 'is encrypted'
  if (entry.compressionMethod !== STORED && entry.compressionMethod !== DEFLATED) return 'is packed in a way that no pack uses'
  if (entry.uncompressedSize > entry.compressedSize * MOST_FROM_ONE_BYTE)
    return `promises ${entry.uncompressedSize} bytes out of ${entry.compressedSize}, which cannot be`
  return null
}

/** Each file has a place of its own in the archive. One that shares its bytes with others would unpack to any size. */
function refuseOverlapping(entries: ReadonlyMap<string, Entry>, end: number): void {
  const inOrder = [...entries.values()].sort((one, other) => one.relativeOffsetOfLocalHeader - other.relativeOffsetOfLocalHeader)
  for (const [place, entry] of inOrder.entries()) {
    const next = inOrder[place + 1]
    if (endOf(entry) > (next?.relativeOffsetOfLocalHeader ?? end))
      throw new Error(
        `The pack is damaged: ${shortened(entry.fileName)} reaches into ${next ? shortened(next.fileName) : 'the end of the archive'}.`,
      )
  }
}

const LOCAL_HEADER_BYTES = 30
const endOf = ({ relativeOffsetOfLocalHeader, fileNameLength, compressedSize }: Entry): number =>
  relativeOffsetOfLocalHeader + LOCAL_HEADER_BYTES + fileNameLength + compressedSize

const shortened = (name: string): string => (name.length > 100 ? `${name.slice(0, 100)}…` : name)
