import type { ReactNode } from 'react'
import styles from './pieces.module.css'

/** One state of a piece, under its name. */
export function State({ name, children }: { name: string; children: ReactNode }) {
  return (
    <div className={styles.state}>
      <p className="small quiet">{name}</p>
      {children}
    </div>
  )
}

export function Section({ title, children }: { title: string; children: ReactNode }) {
  const id = title.toLowerCase().replaceAll(/[^a-z]+/g, '-')
  return (
    <section aria-labelledby={id} className="stack">
      <h2 id={id}>{title}</h2>
      {children}
    </section>
  )
}
