'use client'

import { useState } from 'react'
import type { DraftReading } from '#bench/designs/draft.rules'
import type { Cells } from '#bench/designs/written.rules'
import { CheckCells } from './check-cells'
import styles from './revise.module.css'
import { flawsAt } from './use-draft'

export interface ChecksEditorProps {
  rows: Cells[]
  reading: DraftReading
  blocks: readonly string[]
  onChange(rows: Cells[]): void
}

/** One line a check in the order of the work; the one that is opened shows all its cells. */
export function ChecksEditor({ rows, reading, blocks, onChange }: ChecksEditorProps) {
  const [open, setOpen] = useState<number | null>(null)
  const [said, setSaid] = useState('')
  const move = (from: number, to: number) => {
    const row = rows[from]
    if (!row || to < 0 || to >= rows.length) return
    const others = rows.filter((_, index) => index !== from)
    onChange([...others.slice(0, to), row, ...others.slice(to)])
    if (open === from) setOpen(to)
    setSaid(`${row.step} is number ${to + 1} now.`)
  }
  const add = (at: number) => {
    const before = rows[at - 1]
    const fresh: Cells = {
      step: nextKey(rows),
      stage: before?.stage ?? '',
      hold: '',
      title: '',
      kind: 'measure',
      powered: before?.powered ?? 'y',
      minutes: '2',
    }
    onChange([...rows.slice(0, at), fresh, ...rows.slice(at)])
    setOpen(at)
  }
  return (
    <>
      <p role="status" className="visually-hidden">
        {said}
      </p>
      <ol className={styles.checks}>
        {rows.map((row, index) => {
          const flaws = flawsAt(reading, 'checklist', index)
          const count = Object.keys(flaws).length
          const name = row.step || `row ${index + 1}`
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: a row is what stands at its place; its cells are all that it is
            <li key={index} data-wrong={count > 0 || undefined}>
              <div className={styles.line}>
                <button
                  type="button"
                  className={styles.opener}
                  aria-expanded={open === index}
                  onClick={() => setOpen(open === index ? null : index)}
                >
                  <span className="code">{row.step || '…'}</span>
                  <span className={styles.stage}>
                    {row.stage}
                    {row.hold ? ', hold' : ''}
                  </span>
                  <span>{row.title || 'Not written yet'}</span>
                  <span className={styles.limits}>{shortLimits(row)}</span>
                  {count > 0 && <span className={styles.flaw}>{Object.values(flaws)[0]}</span>}
                </button>
                <span className={styles.tools}>
                  <button type="button" className={styles.icon} aria-label={`Move ${name} up`} onClick={() => move(index, index - 1)}>
                    ↑
                  </button>
                  <button type="button" className={styles.icon} aria-label={`Move ${name} down`} onClick={() => move(index, index + 1)}>
                    ↓
                  </button>
                  <button type="button" className={styles.icon} aria-label={`Add a check below ${name}`} onClick={() => add(index + 1)}>
                    +
                  </button>
                  <button
                    type="button"
                    className={styles.icon}
                    aria-label={`Remove ${name}`}
                    onClick={() => {
                      onChange(rows.filter((_, at) => at !== index))
                      setOpen(null)
                      setSaid(`${name} is removed.`)
                    }}
                  >
                    ×
                  </button>
                </span>
              </div>
              {open === index && (
                <CheckCells
                  row={row}
                  index={index}
                  flaws={flaws}
                  blocks={blocks}
                  stages={[...new Set(rows.map(({ stage }) => stage ?? ''))]}
                  put={(over) => onChange(rows.map((one, at) => (at === index ? { ...one, ...over } : one)))}
                />
              )}
            </li>
          )
        })}
      </ol>
      <div>
        <button type="button" className="button-line" onClick={() => add(rows.length)}>
          Add a check at the end
        </button>
      </div>
    </>
  )
}

function shortLimits({ kind, nominal, lower, upper, unit }: Cells): string {
  if (kind === 'yesno') return 'yes or no'
  if (kind === 'match') return 'a match'
  const limits = lower && upper ? `${lower} to ${upper}` : lower ? `≥ ${lower}` : upper ? `≤ ${upper}` : ''
  return [nominal, `${limits} ${unit ?? ''}`.trim()].filter(Boolean).join('; ')
}

/** One more than the highest number, with the letters that the list uses. */
function nextKey(rows: readonly Cells[]): string {
  const keys = rows.flatMap(({ step = '' }) => /^([A-Za-z]*)(\d+)/.exec(step)?.slice(1) ?? [])
  const numbers = rows.map(({ step = '' }) => Number(/\d+/.exec(step)?.[0] ?? 0))
  return `${keys[0] ?? 'C'}${Math.max(0, ...numbers) + 1}`
}
