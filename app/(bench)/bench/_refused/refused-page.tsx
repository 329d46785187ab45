import { type Crumb, Crumbs } from '#app/_ui/crumbs.tsx'

/** What a page of the bench shows when what it asked for was refused: why, in the words of the refusal, and the way back. */
export function RefusedPage({ words, trail }: { words: string; trail: Crumb[] }) {
  return (
    <div className="page narrow stack">
      <Crumbs trail={trail} />
      <h1>This cannot be shown</h1>
      <p>{words}</p>
    </div>
  )
}
