'use client'

export interface Line {
  /** In bold before the words, or in the mono of codes. */
  lead?: string
  words: string
  /** After them, quiet. */
  aside?: string
}

/** A list of sentences, sent to the page as words alone. */
export function Lines({ lines, isOrdered = false }: { lines: readonly Line[]; isOrdered?: boolean }) {
  const List = isOrdered ? 'ol' : 'ul'
  return (
    <List>
      {lines.map(({ lead, words, aside }) => (
        <li key={`${lead} ${words} ${aside}`}>
          {lead && <b>{lead}</b>}
          {lead ? ` ${words}` : words}
          {aside && <span className="quiet">{` ${aside}`}</span>}
        </li>
      ))}
    </List>
  )
}
