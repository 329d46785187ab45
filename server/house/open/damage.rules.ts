import type { Finding } from '#runtime/vitals/vital'
import type { LookedThrough } from './look-through'

/** As many places are named; the log names all. */
const MOST_NAMED = 3

/** What a look through all that is kept came to, with what to do. */
export function judgeLook(found: LookedThrough | null, failed: string | null): Finding {
  if (failed !== null)
    return {
      value: null,
      standing: 'look',
      words: `What is kept could not be looked through. ${failed}`,
      toDo: 'It is tried again within the hour. If it fails again, look at the disk.',
    }
  if (!found) return { value: null, standing: 'good', words: 'What is kept has not been looked through yet.', toDo: null }
  const { damage, pages, soundCopy } = found
  const places = [
    ...damage.map(({ lot, words }) => (lot === null ? words : `Lot ${lot}: ${words}`)),
    ...pages.map((words) => `In the file of the database: ${words.replace(/\.$/, '')}.`),
  ]
  if (places.length === 0)
    return { value: 0, standing: 'good', words: 'Every history and every page of the database is as it was written.', toDo: null }
  const more = places.length - MOST_NAMED
  return {
    value: places.length,
    standing: 'bad',
    words: [...places.slice(0, MOST_NAMED), ...(more > 0 ? [`${more} more stand in the log.`] : [])].join(' '),
    toDo: toDo(soundCopy),
  }
}

const toDo = (soundCopy: string | null): string =>
  soundCopy === null
    ? 'The house changed nothing. Keep the data folder as it is and look for a copy on another disk: in the folder backups none is whole. Put it back with npm run restore -- folder. Look at the disk before that.'
    : `The house changed nothing. Look at the disk. Then end the house and put back the newest copy that is whole: npm run restore -- ${soundCopy}. What was done after it was made is missing there; the house as it is now is set aside, not thrown away.`
