import Link from 'next/link'
import { ToneMark } from '#app/_ui/tone-mark.tsx'
import { showMoney } from '#kernel/money'
import type { Books } from '#money/books/books.contract'
import styles from './waiting-list.module.css'

/** To do for the treasurer, the most pressing first; nothing at all when nothing waits. */
export function WaitingList({ books }: { books: Books }) {
  const { statement, unplaced } = books
  const show = (minor: number) => showMoney(minor, statement.currency)
  const sum = (items: typeof unplaced) => items.reduce((total, { leftMinor }) => total + leftMinor, 0)
  const owedBack = unplaced.filter(({ isOwedBack }) => isOwedBack)
  const lost = unplaced.filter(({ isOwedBack }) => !isOwedBack)
  const owing = statement.lots.filter(({ owedMinor }) => owedMinor > 0).length
  const waits = [
    statement.toRemitMinor < 0 && {
      href: '/bench/money/out',
      tone: 'bad' as const,
      words: `${show(-statement.toRemitMinor)} too much was passed on to the cause`,
    },
    owedBack.length > 0 && { href: '/bench/money/in', tone: 'bad' as const, words: `${show(sum(owedBack))} is owed back to buyers` },
    lost.length > 0 && { href: '/bench/money/in', tone: 'doubt' as const, words: `${show(sum(lost))} is not allocated yet` },
    statement.matchedDueMinor > 0 && {
      href: '/bench/money/in',
      tone: 'copper' as const,
      words: `${show(statement.matchedDueMinor)} of matched giving can be asked for`,
    },
    owing > 0 && {
      href: '#sold',
      tone: 'copper' as const,
      words: `${show(statement.unpaidMinor)} is unpaid, on ${owing === 1 ? 'one lot' : `${owing} lots`}`,
    },
    statement.toRemitMinor > 0 && {
      href: '/bench/money/out',
      tone: 'copper' as const,
      words: `${show(statement.toRemitMinor)} can be passed on to the cause`,
    },
  ].filter((each) => each !== false)
  if (waits.length === 0) return null
  return (
    <section className="stack close" aria-labelledby="waits">
      <h2 id="waits">To do</h2>
      <ul className={styles.waits}>
        {waits.map(({ href, tone, words }) => (
          <li key={words}>
            <ToneMark tone={tone} />
            <Link prefetch={false} href={href}>
              {words}
            </Link>
          </li>
        ))}
      </ul>
    </section>
  )
}
