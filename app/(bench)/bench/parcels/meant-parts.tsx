'use client'

import { useMemo } from 'react'
import { TextButton } from '#app/_ui/text-button.tsx'
import type { PartIn } from '#stock/catalogue/part.contract'
import { type CatalogueEntry, partsMeant } from '#stock/catalogue/parts-meant.rules'
import styles from './meant-parts.module.css'

export interface FreshPart {
  part: PartIn
  words: string
}

export interface MeantPartsProps {
  typed: string
  catalogue: readonly CatalogueEntry[]
  /** What is typed is an entry, word for word. */
  isKnown: boolean
  chosen: FreshPart | null
  onKnown(words: string, id: string): void
  onFresh(fresh: FreshPart | null): void
}

/** Which part the words may mean. Nothing becomes stock until somebody says yes. */
export function MeantParts({ typed, catalogue, isKnown, chosen, onKnown, onFresh }: MeantPartsProps) {
  const { known, fresh } = useMemo(() => partsMeant(typed, catalogue), [typed, catalogue])
  if (isKnown) return <p className={styles.said}>In the catalogue, so it becomes a batch.</p>
  if (chosen) {
    return (
      <p className={styles.said}>
        A new part: {chosen.words}. <TextButton press={() => onFresh(null)}>No, as it is written</TextButton>
      </p>
    )
  }
  if (known.length === 0 && fresh === null) return null
  return (
    <fieldset className={styles.meant}>
      <legend className="visually-hidden">Is it one of these?</legend>
      <span className="small quiet">Is it</span>
      {known.map(({ id, words }) => (
        <button key={id} type="button" className={styles.choice} onClick={() => onKnown(words, id)}>
          {words}
        </button>
      ))}
      {fresh && (
        <button type="button" className={styles.choice} onClick={() => onFresh(fresh)}>
          {fresh.words}, new
        </button>
      )}
    </fieldset>
  )
}
