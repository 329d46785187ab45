import { Refusal } from '#kernel/refusal'
import { type BodyLimit, MB, MOST_CALL_BYTES } from './bodies'

const KB = 1024

/**
 * The procedures that take a file, a long table or a long letter, each with the most that it may bring. All of them are
 * for some who have signed in; every other call brings sixteen kilobytes at most, and so does whoever may not make it.
 */
export const CALL_SIZES: Readonly<Record<string, number>> = {
  // Files and pasted lists.
  'bank.bookPayout': 1.5 * MB,
  'bank.import': 1.5 * MB,
  'bank.preview': 1.5 * MB,
  'bank.previewPayout': 1.5 * MB,
  'designs.import': 4 * MB,
  'designs.importParts': 1.5 * MB,
  'designs.preview': 4 * MB,
  'designs.previewParts': 1.5 * MB,
  'designs.previewPlacement': 1.5 * MB,
  'designs.readRows': 1.5 * MB,
  'designs.revise': 3 * MB,
  'designs.savePlacement': 1.5 * MB,
  'sending.importBands': 320 * KB,
  'sheets.begin': 3 * MB,
  'sheets.choose': 512 * KB,
  // Long tables.
  'bringup.fitAll': 4 * MB,
  'bringup.previewRework': 64 * KB,
  'bringup.rework': 64 * KB,
  'designs.chooseTelling': 32 * KB,
  'parcels.log': 64 * KB,
  'planning.applyChange': 64 * KB,
  'programme.resumeAll': 32 * KB,
  'sending.saveBands': 320 * KB,
  // Long texts.
  'campaign.save': 32 * KB,
  'nextCampaign.begin': 32 * KB,
  'invoices.remind': 32 * KB,
  'lots.save': 48 * KB,
  'lots.savePostage': 48 * KB,
  'outcome.thank': 48 * KB,
}

const limitOf = (mostBytes: number): BodyLimit => ({
  mostBytes,
  tooLarge: new Refusal(
    'too-large',
    `That is more than can be sent here at once: ${sizeInWords(mostBytes)} at most. Shorten it, or send it in parts.`,
  ),
})
const sizeInWords = (bytes: number) => (bytes >= MB ? `${bytes / MB} MB` : `${bytes / KB} kB`)

const ORDINARY = limitOf(MOST_CALL_BYTES)
const NAMED = new Map(Object.entries(CALL_SIZES).map(([path, mostBytes]) => [path, limitOf(mostBytes)]))

/** What the body of a call may be, for somebody who may make it or may not. */
export const callLimit = (path: string, mayCall: boolean): BodyLimit => (mayCall && NAMED.get(path)) || ORDINARY

export const isLargeCall = (path: string): boolean => NAMED.has(path)
