import { above, type Steps } from './going.rules'
import { lagInWords, sizeInWords, spanInWords } from './in-words.rules'
import type { Finding, Standing } from './vital'

/** In seconds; a bid waits about so long before it is looked at. */
export const LAG_STEPS: Steps = { look: 0.2, bad: 1 }

export interface Lag {
  half: number
  most: number
  longest: number
}

/** `most` is what 99 of 100 turns of the event loop stay below. */
export function judgeLag(lag: Lag | null): Finding {
  if (lag === null) return { value: null, standing: 'good', words: 'It has not been measured yet.', toDo: null }
  const standing = above(lag.most, LAG_STEPS)
  return {
    value: lag.most,
    standing,
    words: `What arrives waits ${lagInWords(lag.half)} as a rule, and ${lagInWords(lag.most)} in the worst of a hundred times (longest: ${lagInWords(lag.longest)}).`,
    toDo:
      standing === 'good'
        ? null
        : 'See what else keeps this machine busy, and stop it; leave packs, plans and simulations for later. If it is only the house, more people are using it than this machine can carry.',
    also: [
      {
        key: 'loop-lag-half',
        unit: 'seconds',
        help: 'By how much half of the turns of the event loop are late, at most.',
        value: lag.half,
      },
      { key: 'loop-lag-longest', unit: 'seconds', help: 'By how much the latest turn of the event loop was late.', value: lag.longest },
    ],
  }
}

const share = (of: number, all: number): number => (all > 0 ? of / all : 0)

export interface Memory {
  used: number
  /** What the system gives. */
  given: number
  heap: number
  heapLimit: number
}

export function judgeMemory({ used, given, heap, heapLimit }: Memory): Finding {
  const fullest = Math.max(share(used, given), share(heap, heapLimit))
  const standing = above(fullest, { look: 0.75, bad: 0.9 })
  return {
    value: used,
    standing,
    words: `The house uses ${sizeInWords(used)} of the ${sizeInWords(given)} of memory that are there for it; its heap holds ${sizeInWords(heap)} of at most ${sizeInWords(heapLimit)}.`,
    toDo:
      standing === 'good'
        ? null
        : 'Restart the house in a quiet minute. If it happens again within hours, keep the log, and give the machine more memory.',
    also: [{ key: 'heap', unit: 'bytes', help: 'Memory that the objects of the program take.', value: heap }],
  }
}

export function judgeFiles(open: number | null, limit: number | null, watching: number): Finding {
  const screens = `${watching} ${watching === 1 ? 'screen is' : 'screens are'} kept up to date`
  const also = [{ key: 'watchers', unit: 'count', help: 'Screens that are kept up to date.', value: watching } as const]
  if (open === null)
    return { value: null, standing: 'good', words: `${screens}. This system does not say how many files are open.`, toDo: null, also }
  if (limit === null) return { value: open, standing: 'good', words: `${screens}; ${open} files and lines are open.`, toDo: null, also }
  const standing = above(share(open, limit), { look: 0.75, bad: 0.9 })
  return {
    value: open,
    standing,
    words: `${screens}; ${open} files and lines are open of at most ${limit.toLocaleString('en')}.`,
    toDo: standing === 'good' ? null : 'Raise the limit of open files (LimitNOFILE, or ulimit -n) and restart the house.',
    also: [...also, { key: 'open-files-limit', unit: 'count', help: 'Files and lines that may be open at most.', value: limit }],
  }
}

const CLOCK_STEPS: Steps = { look: 2, bad: 60 }
export const CLOCK_LIMIT = CLOCK_STEPS.bad

/** `ahead`: by how many seconds the house’s own clock is ahead of the machine’s wall clock. */
export function judgeClock(ahead: number): Finding {
  const standing: Standing = above(Math.abs(ahead), CLOCK_STEPS)
  const way = ahead > 0 ? 'ahead of' : 'behind'
  return {
    value: ahead,
    standing,
    words:
      standing === 'good'
        ? 'The house’s clock and the machine’s agree.'
        : `The house’s clock is ${spanInWords(Math.abs(ahead))} ${way} the machine’s: that was set while the house was open. Closings follow the house’s own.`,
    toDo:
      standing === 'good'
        ? null
        : 'Check whether the machine’s clock is right now, against time from the network. If it is, restart the house while no lot is about to close.',
  }
}
