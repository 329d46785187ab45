'use client'

import type { MouseEvent } from 'react'
import { OTHER } from './draft.rules'
import styles from './lot.module.css'

interface StepChoiceProps {
  steps: readonly number[]
  /** What a bid comes to at least by now: the place of a step that was passed stays, and the step is gone. */
  least: number
  choice: string | null
  choose: (value: string) => void
  show: (minor: number) => string
}

/** The ladder's next steps as buttons, and an amount of one's own. */
export function StepChoice({ steps, least, choice, choose, show }: StepChoiceProps) {
  return (
    <div className={styles.steps}>
      {steps.map((step) =>
        step < least ? (
          <div key={step} className={styles.step} />
        ) : (
          <label key={step} className={styles.step}>
            <input type="radio" name="choice" value={step} checked={choice === String(step)} onChange={() => choose(String(step))} />
            <span>{show(step)}</span>
          </label>
        ),
      )}
      <label className={styles.step}>
        <input type="radio" name="choice" value={OTHER} checked={choice === OTHER} onChange={() => choose(OTHER)} onClick={goToAmount} />
        <span>Another</span>
      </label>
    </div>
  )
}

/** A finger that chose "another" wants to write it; arrow keys, which only pass by (a click of no presses), stay in the row. */
function goToAmount(event: MouseEvent<HTMLInputElement>): void {
  if (event.detail === 0) return
  const { form } = event.currentTarget
  requestAnimationFrame(() => {
    const field = form?.elements.namedItem('other')
    if (field instanceof HTMLInputElement) field.focus()
  })
}
