import { STEP_MINUTES, type WayOut } from './planning.contract'

/** What a rule would have to become for all that must be kept to fit, as a sentence. */
export function wayWords(way: WayOut, wishWords: (wish: string) => string): string {
  if (way.rule === 'most-an-hour') return `${way.closings} lots may close in an hour.`
  const minutes = way.steps * STEP_MINUTES
  switch (way.rule) {
    case 'like-apart':
      return minutes === 0 ? 'Like machines may stand side by side.' : `Like machines stand ${minutes} minutes apart.`
    case 'after':
      return `After each closing, host and extensions together keep ${minutes} minutes.`
    case 'longer':
      return `“${wishWords(way.wish)}” may be ${minutes} minutes later: a guest would stay that much longer.`
    case 'earlier':
      return `“${wishWords(way.wish)}” may be ${minutes} minutes earlier: a guest would come that much sooner.`
  }
}
