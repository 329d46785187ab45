import { useId, useRef, useState } from 'react'
import styles from './overlays.module.css'

/** One line to copy. Over plain HTTP there is no clipboard: then it is marked, to be copied by hand. */
export function CopyLine({ label, text, isReady }: { label: string; text: string; isReady: boolean }) {
  const id = useId()
  const field = useRef<HTMLInputElement>(null)
  const [said, setSaid] = useState('')
  if (!isReady) return null
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text)
      setSaid('Copied.')
    } catch {
      field.current?.select()
      setSaid('Selected: copy it yourself.')
    }
  }
  return (
    <div className={styles.line}>
      <label htmlFor={id} className="small">
        {label}
      </label>
      <input ref={field} id={id} readOnly value={text} onFocus={(event) => event.currentTarget.select()} />
      <button
        type="button"
        className="button-line"
        onClick={copy}
        aria-label={`Copy the ${label.charAt(0).toLowerCase()}${label.slice(1)}`}
      >
        Copy
      </button>
      <span role="status" className="small">
        {said}
      </span>
    </div>
  )
}
