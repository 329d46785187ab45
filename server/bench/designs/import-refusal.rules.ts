import { Refusal } from '#kernel/refusal'
import type { Flaw } from './design.contract'

const LIST_NAMES: Record<Flaw['list'], string> = { checklist: 'Checklist', partsList: 'Parts list', feeds: 'Feeds' }

/** One sentence at each list that is to blame, with its first three lines; the preview shows them all. */
export function refusalFor(flaws: readonly Flaw[]): Refusal {
  const lists = [...new Set(flaws.map(({ list }) => list))]
  const fields = lists.map((list) => {
    const own = flaws.filter((flaw) => flaw.list === list)
    const said = own
      .slice(0, 3)
      .map(({ line, column, words }) => `${line > 0 ? `Line ${line}${column ? `, ${column}` : ''}: ` : ''}${words}`)
    return [list, own.length > 3 ? `${said.join(' ')} And ${own.length - 3} more.` : said.join(' ')] as const
  })
  const first = flaws[0]
  const where = first ? `${LIST_NAMES[first.list]}${first.line > 0 ? `, line ${first.line}` : ''}` : ''
  const count = flaws.length === 1 ? 'One thing is' : `${flaws.length} things are`
  return new Refusal(
    'bad-input',
    `${count} to be corrected; nothing was stored. ${where}: ${first?.words ?? ''}`,
    Object.fromEntries(fields),
  )
}
