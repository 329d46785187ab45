'use client'

import { useState } from 'react'
import styles from './credits.module.css'

/** Plain text for the description of a video, with the addresses at which machines read the same. */
export function TextToCopy({ text, address }: { text: string; address: string }) {
  const [said, setSaid] = useState('')
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text)
      setSaid('Copied.')
    } catch {
      setSaid('This browser does not let the page copy. Select the text and copy it yourself.')
    }
  }
  return (
    <details>
      <summary>As text, for the description of a video</summary>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a block that scrolls must take the focus */}
      <pre className={styles.text} tabIndex={0}>
        {text}
      </pre>
      <div className="row">
        <button type="button" className="button-line" onClick={copy}>
          Copy the text
        </button>
        <a className="alone" href={`${address}.txt`}>
          As a text file
        </a>
        <a className="alone" href={`${address}.json`}>
          As JSON
        </a>
        <span role="status" className="small">
          {said}
        </span>
      </div>
    </details>
  )
}
