'use client'

import { useState } from 'react'
import styles from './stream-part.module.css'

export interface StreamPartProps {
  /** Where the video is watched. */
  streamUrl: string
  /** Its player; empty where it cannot be shown here. */
  playerUrl: string
}

/** The stream, one tap away: nothing of anybody else's is loaded before. */
export function StreamPart({ streamUrl, playerUrl }: StreamPartProps) {
  const [isShown, setShown] = useState(false)
  if (streamUrl === '' && playerUrl === '') return null
  const host = new URL(playerUrl || streamUrl).host
  return (
    <div className="stack close">
      <div className="row">
        {playerUrl !== '' && (
          <button type="button" className="button-line" aria-expanded={isShown} onClick={() => setShown(!isShown)}>
            {isShown ? 'Close the stream' : 'Watch the stream here'}
          </button>
        )}
        {streamUrl !== '' && (
          <a href={streamUrl} rel="noreferrer" target="_blank">
            Watch it at {new URL(streamUrl).host}
            <span className="visually-hidden"> (in a new tab)</span>
          </a>
        )}
      </div>
      {playerUrl !== '' && !isShown && <p className="small quiet">Shown here it is loaded from {host}, which then knows that you watch.</p>}
      {isShown && (
        <iframe
          className={styles.player}
          src={playerUrl}
          title="The stream"
          referrerPolicy="no-referrer"
          sandbox="allow-scripts allow-same-origin allow-popups allow-presentation"
          allow="autoplay; fullscreen; picture-in-picture"
        />
      )}
    </div>
  )
}
