import { type Instant, MINUTE } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import { AFTER_CLOSING, asItRuns, BEFORE_CLOSING, findClash, type RunningItem, slotOf } from './programme.rules'

/**
 * What speaks against announcing closings as the day runs, in words: one whose minutes on air have begun already, so that nobody
 * has notice of it, and one that a late bid or a hold has brought something else near.
 */
export function soonWords(closings: readonly RunningItem[], day: readonly RunningItem[], now: Instant, zone: string): string[] {
  const coming = asItRuns(day.filter(({ isOver }) => !isOver))
  return asItRuns(closings.filter(({ kind, isOver }) => kind === 'closing' && !isOver)).flatMap((item) => {
    const clock = showClock(item.startsAt, zone)
    const left = item.startsAt - now
    if (left < BEFORE_CLOSING) {
      const minutes = Math.max(0, Math.floor(left / MINUTE))
      const when = minutes === 0 ? 'in less than a minute' : minutes === 1 ? 'in a minute' : `in ${minutes} minutes`
      return [
        `${item.title} would close at ${clock}, ${when}: nobody has had notice of it, and a closing needs ${BEFORE_CLOSING / MINUTE}.`,
      ]
    }
    const clash = findClash(item, coming)
    if (!clash) return []
    const until = showClock(slotOf(clash).to, zone)
    const why =
      clash.kind === 'closing'
        ? `which closes at ${showClock(clash.startsAt, zone)} now and keeps ${AFTER_CLOSING / MINUTE} minutes`
        : `which lasts until ${until}`
    return [`${item.title} would close at ${clock}, too near ${clash.title}, ${why}.`]
  })
}
