import { Notice } from '#app/_ui/notice.tsx'
import type { TableFlaw } from '#kernel/table'

const MOST_SHOWN = 12

/** What keeps a file out, each at its line and column. */
export function FileFlaws({ title, flaws }: { title: string; flaws: readonly TableFlaw[] }) {
  return (
    <Notice tone="bad" title={title}>
      <ul>
        {flaws.slice(0, MOST_SHOWN).map(({ line, column, words }) => (
          <li key={`${line} ${column} ${words}`}>
            {line > 0 && `Line ${line}, ${column}: `}
            {words}
          </li>
        ))}
      </ul>
      {flaws.length > MOST_SHOWN && <p>And {flaws.length - MOST_SHOWN} more.</p>}
    </Notice>
  )
}
