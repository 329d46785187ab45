'use client'

import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'
import type { RefObject } from 'react'
import type { CheckView } from '#bench/units/view.contract'
import { readIdcode, sayDifference, sayIdcode } from '#stock/catalogue/idcode.rules'
import styles from './reading.module.css'
import type { Typed } from './use-at-hand'

export interface EntryBoxProps {
  check: CheckView
  typed: Typed
  setTyped(typed: Typed): void
  box: RefObject<HTMLInputElement | null>
  id: string
  wrong: boolean
  /** For a yes or a no, which need no Enter. */
  answer(entry: string): void
}

/** Where the figure goes, by the kind of check. */
export function EntryBox({ check, typed, setTyped, box, id, wrong, answer }: EntryBoxProps) {
  const described = wrong ? { 'aria-invalid': true as const, 'aria-describedby': `${id}-error` } : {}
  if (check.kind === 'yesno') {
    return (
      <div className={styles.boxes}>
        <div className={styles.yesNo}>
          <button type="button" className="button" onClick={() => answer('yes')}>
            Yes
          </button>
          <button type="button" className="button-line" onClick={() => answer('no')}>
            No
          </button>
        </div>
        <Box label="Or type y or n" name="entry" size="letter" {...{ id, typed, setTyped, box, described }} />
      </div>
    )
  }
  if (check.kind === 'match' && check.expects?.length === 64) {
    const readBack = async (file: File | undefined) => {
      if (file) setTyped({ ...typed, entry: bytesToHex(sha256(new Uint8Array(await file.arrayBuffer()))) })
    }
    return (
      <>
        <div className={styles.entry}>
          <label htmlFor={`${id}-file`}>File that was read back</label>
          <input
            ref={box}
            id={`${id}-file`}
            type="file"
            onChange={(event) => void readBack(event.currentTarget.files?.[0])}
            {...described}
          />
        </div>
        <Box label="Its SHA-256" name="entry" size="hash" {...{ id, typed, setTyped, described }} />
      </>
    )
  }
  const label =
    check.kind === 'match'
      ? 'Identification code'
      : check.kind === 'soak'
        ? `Faults (${check.unit})`
        : check.kind === 'count'
          ? 'Count'
          : 'On the meter'
  const code = check.kind === 'match' && typed.entry.trim() !== '' ? readIdcode(typed.entry) : null
  const wanted = code?.ok && check.expects ? readIdcode(check.expects) : null
  return (
    <div className={styles.boxes}>
      {code?.ok && (
        <p className={styles.decoded} role="status">
          {sayIdcode(code.idcode)}
          {wanted?.ok && (sayDifference(code.idcode, wanted.idcode) ?? 'as it should be').replace(/^/, ': ')}
        </p>
      )}
      <Box
        label={label}
        name="entry"
        unit={check.kind === 'measure' ? check.unit : ''}
        keypad={check.kind === 'match' ? 'text' : check.kind === 'measure' ? 'decimal' : 'numeric'}
        {...{ id, typed, setTyped, box, described }}
      />
      {check.kind === 'measure' && <FurtherKeys typed={typed} setTyped={setTyped} box={box} />}
      {check.kind === 'soak' && <Stated typed={typed} setTyped={setTyped} />}
      {check.kind === 'soak' && typed.isStated && (
        <>
          <Box label="Hours it ran" name="hours" keypad="decimal" {...{ id, typed, setTyped, described }} />
          <Box label="Cold starts" name="starts" keypad="numeric" {...{ id, typed, setTyped, described }} />
        </>
      )}
    </div>
  )
}

/** Hours come from the run that the house saw. One that ran elsewhere can be entered, and is known by it for ever. */
function Stated({ typed, setTyped }: Pick<EntryBoxProps, 'typed' | 'setTyped'>) {
  return (
    <label className={styles.stated}>
      <input
        type="checkbox"
        name="isStated"
        checked={typed.isStated}
        onChange={(event) => setTyped({ ...typed, isStated: event.currentTarget.checked })}
      />
      <span>
        It ran elsewhere
        <span className="under">Then you write down its hours, and bench, record and certificate say “stated, not observed here”.</span>
      </span>
    </label>
  )
}

const FURTHER = [
  { key: '-', shown: '−', said: 'Minus' },
  { key: 'm', shown: 'm', said: 'Milli' },
  { key: 'k', shown: 'k', said: 'Kilo' },
  { key: 'M', shown: 'M', said: 'Mega' },
  { key: 'µ', shown: 'µ', said: 'Micro' },
  { key: 'OL', shown: 'OL', said: 'More than the range' },
]

/** What a phone's figures leave out, below the box; at a desk they are on the keyboard, and these are gone. */
function FurtherKeys({ typed, setTyped, box }: Pick<EntryBoxProps, 'typed' | 'setTyped' | 'box'>) {
  const press = (key: string) => {
    const { entry } = typed
    const next = key === 'OL' ? key : key === '-' ? (entry.startsWith('-') ? entry.slice(1) : `-${entry}`) : `${entry}${key}`
    setTyped({ ...typed, entry: next })
    box.current?.focus()
  }
  return (
    <div className={styles.keys}>
      {FURTHER.map(({ key, shown, said }) => (
        <button key={key} type="button" aria-label={said} onClick={() => press(key)}>
          {shown}
        </button>
      ))}
    </div>
  )
}

interface BoxProps extends Pick<EntryBoxProps, 'id' | 'typed' | 'setTyped'> {
  label: string
  name: Exclude<keyof Typed, 'isStated'>
  unit?: string
  size?: 'big' | 'hash' | 'letter'
  /** Which keys a phone brings up. */
  keypad?: 'text' | 'decimal' | 'numeric'
  box?: RefObject<HTMLInputElement | null>
  described: object
}

function Box({ label, name, unit = '', size = 'big', keypad = 'text', box, id, typed, setTyped, described }: BoxProps) {
  return (
    <div className={styles.entry}>
      <label htmlFor={`${id}-${name}`}>{label}</label>
      <span className={styles.figure}>
        <input
          ref={box}
          id={`${id}-${name}`}
          name={name}
          type="text"
          inputMode={keypad}
          autoComplete="off"
          autoCapitalize="off"
          spellCheck={false}
          value={typed[name]}
          onChange={(event) => setTyped({ ...typed, [name]: event.currentTarget.value })}
          className={styles[size]}
          {...described}
        />
        {unit !== '' && <span aria-hidden="true">{unit}</span>}
      </span>
    </div>
  )
}
