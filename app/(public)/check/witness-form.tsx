'use client'

import { useState } from 'react'
import { TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import styles from './check.module.css'

/** For whoever kept a checkpoint, or wrote down the code that was read out on the stream. */
export function WitnessForm({ onCheck }: { onCheck: (written: string, lot: string) => void }) {
  const [written, setWritten] = useState('')
  const [lot, setLot] = useState('')
  return (
    <form
      className={styles.way}
      onSubmit={(event) => {
        event.preventDefault()
        onCheck(written, lot)
      }}
    >
      <TextareaField
        name="witness"
        label="A checkpoint, or the code off the screen"
        hint="As kept from /lots/7/checkpoint, or as read out: five groups of four."
        value={written}
        onChange={(event) => setWritten(event.target.value)}
      />
      <TextField
        name="lot"
        label="Number of the lot"
        hint="With a code; a checkpoint says it itself."
        value={lot}
        onChange={(event) => setLot(event.target.value)}
        inputMode="numeric"
      />
      <button type="submit" className="button">
        Compare with the history
      </button>
    </form>
  )
}
