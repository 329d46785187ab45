'use client'

import { useId } from 'react'
import type { DraftReading } from '#bench/designs/draft.rules'
import type { Cells } from '#bench/designs/written.rules'
import { BlocksPicture } from '../blocks-picture'
import styles from './revise.module.css'
import { flawsAt } from './use-draft'

/** Who feeds whom, row by row, and the picture that follows from it, in sight while rows are changed. */
export function FeedsEditor({ rows, reading, onChange }: { rows: Cells[]; reading: DraftReading; onChange(rows: Cells[]): void }) {
  const id = useId()
  const put = (at: number, over: Cells) => onChange(rows.map((row, index) => (index === at ? { ...row, ...over } : row)))
  return (
    <div className="stack">
      <div className={styles.inSight}>
        <BlocksPicture blocks={reading.blocks} feeds={reading.feeds} />
      </div>
      <div>
        <table className={styles.feeds}>
          <caption className="visually-hidden">Blocks and what they feed, with power or signal</caption>
          <thead>
            <tr>
              <th scope="col">From</th>
              <th scope="col">gives</th>
              <th scope="col">to</th>
              <th scope="col">
                <span className="visually-hidden">Remove</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row, index) => {
              const flaws = flawsAt(reading, 'feeds', index)
              const words = Object.values(flaws)
              const cell = (column: 'from' | 'to', label: string) => (
                <input
                  type="text"
                  list={`${id}-blocks`}
                  autoComplete="off"
                  aria-label={`${label}, row ${index + 1}`}
                  aria-invalid={flaws[column] ? true : undefined}
                  aria-describedby={words.length > 0 ? `${id}-${index}` : undefined}
                  value={row[column] ?? ''}
                  onChange={(event) => put(index, { [column]: event.currentTarget.value })}
                />
              )
              return (
                // biome-ignore lint/suspicious/noArrayIndexKey: a row is what stands at its place; its cells are all that it is
                <tr key={index}>
                  <td>
                    {cell('from', 'From')}
                    {words.length > 0 && (
                      <span id={`${id}-${index}`} className={styles.flaw}>
                        {words.join(' ')}
                      </span>
                    )}
                  </td>
                  <td>
                    <select
                      aria-label={`Gives, row ${index + 1}`}
                      aria-invalid={flaws.kind ? true : undefined}
                      value={row.kind ?? ''}
                      onChange={(event) => put(index, { kind: event.currentTarget.value })}
                    >
                      {!['power', 'signal'].includes(row.kind ?? '') && <option value={row.kind ?? ''}>{row.kind || 'nothing'}</option>}
                      <option value="power">power</option>
                      <option value="signal">signal</option>
                    </select>
                  </td>
                  <td>{cell('to', 'To')}</td>
                  <td>
                    <button
                      type="button"
                      className={styles.icon}
                      aria-label={`Remove row ${index + 1}`}
                      onClick={() => onChange(rows.filter((_, at) => at !== index))}
                    >
                      ×
                    </button>
                  </td>
                </tr>
              )
            })}
          </tbody>
        </table>
        <datalist id={`${id}-blocks`}>
          {reading.blocks.map((block) => (
            <option key={block} value={block} />
          ))}
        </datalist>
        <button type="button" className="button-line" onClick={() => onChange([...rows, { from: '', to: '', kind: 'signal' }])}>
          Add a row
        </button>
      </div>
    </div>
  )
}
