'use client'

import { useEffect, useRef, useState } from 'react'
import type { ShownRipple } from '../../../../server/planning/change.contract'
import { showClock } from '../../../../server/programme/civil-time.rules'
import type { ProgrammeItem } from '../../../../server/programme/programme.contract'
import type { DayChange } from '../../../../server/programme/ripple.rules'
import { api } from '../../../_trpc/client'
import { refusedBy, useCommand } from '../../../_trpc/use-command'
import { SelectField, TextField } from '../../../_ui/forms/text-fields'
import { Notice } from '../../../_ui/notice'
import styles from './change-day.module.css'

export interface ChangeDayProps {
  /** What has not begun, in order. */
  coming: readonly ProgrammeItem[]
  zone: string
}

const WAYS = [
  { way: 'guest', key: 'g', label: 'A guest is late' },
  { way: 'extend', key: 'e', label: 'Give a closing time' },
  { way: 'swap', key: 's', label: 'Swap two closings' },
  { way: 'all-later', key: 'l', label: 'Everything later' },
] as const
type Way = (typeof WAYS)[number]['way']

/** Seconds in which a change can still be taken back: what was announced cannot move earlier afterwards. */
const GRACE = 8

/** Changes on the day, each a key: what it would move is shown, then it is done, unless it is taken back at once. */
export function ChangeDay({ coming, zone }: ChangeDayProps) {
  const dialog = useRef<HTMLDialogElement>(null)
  const [way, setWay] = useState<Way>('guest')
  const open = (chosen: Way) => {
    setWay(chosen)
    if (!dialog.current?.open) dialog.current?.showModal()
  }
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      const isTyping = event.target instanceof HTMLElement && /^(INPUT|SELECT|TEXTAREA)$/.test(event.target.tagName)
      const pressed = WAYS.find(({ key }) => key === event.key)
      if (!pressed || isTyping || event.ctrlKey || event.metaKey || event.altKey || document.querySelector('dialog[open]')) return
      event.preventDefault()
      open(pressed.way)
    }
    addEventListener('keydown', press)
    return () => removeEventListener('keydown', press)
  })
  return (
    <>
      {WAYS.map(({ way: one, key, label }) => (
        <button key={one} type="button" className="button-line" aria-keyshortcuts={key} onClick={() => open(one)}>
          {label} <kbd className={styles.key}>{key.toUpperCase()}</kbd>
        </button>
      ))}
      <dialog ref={dialog} className={styles.dialog} aria-labelledby="change-day">
        <h2 id="change-day">{WAYS.find((one) => one.way === way)?.label}</h2>
        <ChangeForm key={way} way={way} coming={coming} zone={zone} close={() => dialog.current?.close()} />
      </dialog>
    </>
  )
}

function ChangeForm({ way, coming, zone, close }: ChangeDayProps & { way: Way; close(): void }) {
  const of = (kind: ProgrammeItem['kind']) => coming.filter((item) => item.kind === kind)
  const pool = way === 'guest' ? of('guest') : of('closing')
  const [item, setItem] = useState(pool[0]?.id ?? '')
  const [other, setOther] = useState(pool[1]?.id ?? '')
  const [minutes, setMinutes] = useState('10')
  const [reason, setReason] = useState('')
  const [ripple, setRipple] = useState<ShownRipple | null>(null)
  const [trouble, setTrouble] = useState('')
  const { left, begin, undo } = useGrace()
  const apply = useCommand(api.planning.applyChange.mutate)
  const whole = Number(minutes)
  const change: DayChange | null =
    way === 'swap'
      ? { kind: 'swap', firstId: item, secondId: other }
      : !Number.isInteger(whole) || whole < 1
        ? null
        : way === 'all-later'
          ? { kind: 'all-later', minutes: whole }
          : { kind: 'later', itemId: item, minutes: whole }
  const asked = JSON.stringify(change)
  useEffect(() => {
    let isStale = false
    const wanted = JSON.parse(asked) as DayChange | null
    setRipple(null)
    setTrouble('')
    if (!wanted) return
    api.planning.previewChange.query(wanted).then(
      (shown) => !isStale && setRipple(shown),
      (failed: unknown) => !isStale && setTrouble(refusedBy(failed).words),
    )
    return () => {
      isStale = true
    }
  }, [asked])

  if (way !== 'all-later' && (pool.length === 0 || (way === 'swap' && pool.length < 2))) {
    return (
      <>
        <p>
          {way === 'guest'
            ? 'No guest is still to come.'
            : way === 'swap'
              ? 'There are no two closings to come.'
              : 'No closing is still to come.'}
        </p>
        <button type="button" className="button-line" onClick={close}>
          Close
        </button>
      </>
    )
  }
  const options = pool.map(({ id, title, runsTo, startsAt, kind }) => ({
    value: id,
    label: `${showClock(kind === 'closing' ? runsTo : startsAt, zone)} ${title}`,
  }))
  const send = async () => {
    if (!change || !ripple) return
    const done = await apply.run({ change, reason, seen: ripple.shifts.map(({ id, to }) => ({ id, to })) })
    if (done) close()
  }
  return (
    <div className="stack">
      {way !== 'all-later' && (
        <SelectField
          name="item"
          label={way === 'guest' ? 'Which guest?' : way === 'swap' ? 'This one' : 'Which closing?'}
          options={options}
          value={item}
          onChange={(event) => setItem(event.currentTarget.value)}
        />
      )}
      {way === 'swap' ? (
        <SelectField
          name="other"
          label="with this one"
          hint="The later of the two keeps its time; the other goes behind it."
          options={options}
          value={other}
          onChange={(event) => setOther(event.currentTarget.value)}
        />
      ) : (
        <TextField
          name="minutes"
          label="How many minutes later?"
          width="code"
          inputMode="numeric"
          value={minutes}
          onChange={(event) => setMinutes(event.currentTarget.value)}
        />
      )}
      <TextField name="reason" label="Why? Bidders read it." value={reason} onChange={(event) => setReason(event.currentTarget.value)} />
      {trouble !== '' && <p role="alert">{trouble}</p>}
      {ripple && <RippleList ripple={ripple} zone={zone} />}
      {apply.refusal && <p role="alert">{apply.refusal.words}</p>}
      <div className="row">
        {left === null ? (
          <button
            type="button"
            className="button"
            onClick={() => (reason.trim() === '' ? setTrouble('Say why first; bidders are told.') : ripple && begin(() => void send()))}
          >
            Do it
          </button>
        ) : (
          <button type="button" className="button" onClick={undo}>
            Take it back ({left} s)
          </button>
        )}
        <button
          type="button"
          className="button-line"
          onClick={() => {
            undo()
            close()
          }}
        >
          Leave the day as it is
        </button>
      </div>
    </div>
  )
}

function RippleList({ ripple: { shifts, beyondEnd }, zone }: { ripple: ShownRipple; zone: string }) {
  const bidders = shifts.reduce((sum, one) => sum + one.bidders, 0)
  const guests = shifts.filter(({ kind }) => kind === 'guest').map(({ title }) => title)
  return (
    <div className="stack" aria-live="polite">
      <table>
        <caption>{shifts.length === 0 ? 'Nothing moves.' : shifts.length === 1 ? 'This moves' : `These ${shifts.length} move`}</caption>
        <tbody>
          {shifts.map(({ id, title, from, to }) => (
            <tr key={id}>
              <th scope="row">{title}</th>
              <td className="num">
                {showClock(from, zone)} → {showClock(to, zone)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        {bidders === 0 ? 'No bidder has to be told.' : `${bidders === 1 ? 'One bidder is' : `${bidders} bidders are`} sent a mail.`}
        {guests.length > 0 && ` Tell ${guests.join(' and ')} yourself.`} The programme and every calendar follow at once.
      </p>
      {beyondEnd.length > 0 && (
        <Notice tone="bad" title="Beyond the end of the stream">
          <p>{beyondEnd.join(', ')}. Make the stream longer on the campaign’s page first.</p>
        </Notice>
      )}
    </div>
  )
}

/** Counts down before something is done that cannot be undone afterwards. */
function useGrace() {
  const [left, setLeft] = useState<number | null>(null)
  const work = useRef<(() => void) | null>(null)
  useEffect(() => {
    if (left === null) return
    const timer = setTimeout(() => {
      if (left > 1) setLeft(left - 1)
      else {
        setLeft(null)
        work.current?.()
      }
    }, 1000)
    return () => clearTimeout(timer)
  }, [left])
  return {
    left,
    begin: (todo: () => void) => {
      work.current = todo
      setLeft(GRACE)
    },
    undo: () => setLeft(null),
  }
}
