'use client'

import { useEffect, useState } from 'react'
import type { PickRow } from '#bench/units/pick.rules'
import { collapseDesignators } from '#stock/catalogue/designator.rules'
import styles from './pick.module.css'

/** Rows to tick as they are taken; the ticks stay on this device, so that a reload loses none. */
export function PickRows({ tag, rows }: { tag: string; rows: readonly PickRow[] }) {
  const place = `pick:${tag}`
  const [taken, setTaken] = useState<readonly string[]>([])
  useEffect(() => setTaken(readTaken(place)), [place])
  const tick = (name: string, isTaken: boolean) => {
    const next = [...readTaken(place).filter((one) => one !== name), ...(isTaken ? [name] : [])]
    setTaken(next)
    localStorage.setItem(place, JSON.stringify(next))
  }
  return (
    <ul className={`plain-list ${styles.rows}`}>
      {rows.map((row) => {
        const name = `${row.code} ${row.designators.join(' ')}`
        return (
          <li key={name}>
            <label className={styles.row}>
              <input type="checkbox" checked={taken.includes(name)} onChange={(event) => tick(name, event.currentTarget.checked)} />
              <span className={styles.count}>{row.designators.length} ×</span>
              <span>
                <b>{row.part}</b> <span className="code">{row.code}</span>
                {row.words !== '' && <span className="small quiet"> {row.words}</span>}
                <br />
                <span className="code several small">{collapseDesignators(row.designators)}</span>
              </span>
            </label>
          </li>
        )
      })}
    </ul>
  )
}

function readTaken(place: string): string[] {
  const kept: unknown = JSON.parse(localStorage.getItem(place) ?? '[]')
  return Array.isArray(kept) ? kept.filter((one) => typeof one === 'string') : []
}
