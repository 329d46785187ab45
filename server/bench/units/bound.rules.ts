import { readAccuracy, topOfOnlyRange } from './accuracy.rules'
import { readEntry } from './entry.rules'
import { type Judgement, no, plain, type Taken } from './judged.rules'

const BOUND = /^(?:(OL|O\.L|over|more than|>)|(under|less than|<))(.*)$/i

/** Over or under its range is an answer too: "more than 60 MΩ" is at least 10 MΩ, and not at most 5. */
export function readBound({ check, entry, instrument }: Taken): Judgement | null {
  const match = BOUND.exec(entry.normalize('NFKC').trim().replace(/^\+/, ''))
  if (!match) return null
  const [, over, , written = ''] = match
  const rest = written.trimStart()
  const accuracy = instrument ? readAccuracy(instrument.accuracy) : null
  const stated = over && rest === '' && accuracy?.ok ? topOfOnlyRange(accuracy, check.unit) : null
  const read = rest === '' ? null : readEntry(rest, check.unit)
  if (read && !read.ok) return no('entry', read.words)
  const value = read?.ok ? read.entry.value : stated?.value
  if (value === undefined) {
    return no(
      'entry',
      `Write the ${over ? 'top' : 'bottom'} of the range in use with it, such as "${over ? 'more than 60' : 'less than 0.1'}${check.unit && ` ${check.unit}`}": how far it goes is the reading.`,
    )
  }
  const words = `${over ? 'more' : 'less'} than ${read?.ok ? read.entry.shown : stated?.words}`
  const { lower, upper } = check
  if (over) {
    if (upper !== null && value >= upper) return { ok: true, judged: plain(words, value, 'fail') }
    if (upper === null && lower !== null && value >= lower) return { ok: true, judged: plain(words, value, 'pass') }
  } else {
    if (lower !== null && value <= lower) return { ok: true, judged: plain(words, value, 'fail') }
    if (lower === null && upper !== null && value <= upper) return { ok: true, judged: plain(words, value, 'pass') }
  }
  return no('entry', `"${words}" does not decide this check. Choose another range or instrument, and write its figure.`)
}
