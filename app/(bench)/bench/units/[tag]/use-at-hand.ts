'use client'

import { useCallback, useEffect, useState } from 'react'
import { KEPT_AS } from '#app/_ui/forms/typed-text.rules.ts'
import type { CheckView } from '#bench/units/view.contract'
import type { BringupView } from '#floor/bringup/bringup.contract'

/** A check taken out of the list: to be taken again, or to have its reading corrected. */
export interface Chosen {
  key: string
  corrects: boolean
}

export interface Typed {
  entry: string
  hours: string
  starts: string
  /** Of a soak: it ran elsewhere, and its hours are what somebody says. */
  isStated: boolean
}

export const NOTHING_TYPED: Typed = { entry: '', hours: '', starts: '', isStated: false }

/** Something is being written or sent for a check; `found` is the reading that stood there when it was begun. */
interface Held {
  key: string
  found: string | null
}

export interface AtHand {
  check: CheckView | undefined
  corrects: boolean
  isRelease: boolean
  typed: Typed
  type(typed: Typed): void
  /** Keeps the check at hand while its reading is on the way to the house. */
  hold(): void
  /** The reading was kept: what was typed for it goes, unless more was typed since. */
  done(sent: Typed): void
  /** Puts aside what was begun and goes on with the next check. */
  leave(): void
  /** What somebody else's work means for what is being typed here; null when nothing. */
  meanwhile: string | null
}

/**
 * Which check is at hand. It is the next permitted one until something is typed for it: from then on it stays, whatever
 * the other person at this unit enters meanwhile, and what was typed stays with it.
 */
export function useAtHand(view: BringupView, chosen: Chosen | null): AtHand {
  const [held, setHeld] = useState<Held | null>(null)
  const { drafts, setDrafts } = useDrafts(view.tag)
  const key = chosen?.key ?? held?.key ?? view.next?.check
  const check = view.checks.find((one) => one.key === key)
  const corrects = chosen?.corrects === true && check?.reading != null
  const slot = `${key} ${corrects}`
  const found = check?.reading?.id ?? null
  const holdHere = useCallback(() => {
    if (key !== undefined) setHeld((before) => (before?.key === key ? before : { key, found }))
  }, [key, found])
  return {
    check,
    corrects,
    isRelease: chosen === null && held === null && view.next?.may === 'release',
    typed: drafts[slot] ?? NOTHING_TYPED,
    type: (typed) => {
      setDrafts((before) => ({ ...before, [slot]: typed }))
      if (isEmpty(typed)) setHeld(null)
      else holdHere()
    },
    hold: holdHere,
    done: (sent) => {
      setDrafts((before) => (isSame(before[slot] ?? NOTHING_TYPED, sent) ? { ...before, [slot]: NOTHING_TYPED } : before))
      setHeld((before) => (before?.key === key ? null : before))
    },
    leave: () => setHeld(null),
    meanwhile: check && held?.key === check.key ? meanwhileWords(check, held) : null,
  }
}

/** What was typed for each check, kept for this tab, so that a reload loses no reading. */
function useDrafts(tag: string) {
  const [drafts, setDrafts] = useState<Record<string, Typed>>({})
  const place = `${KEPT_AS}readings ${tag}`
  useEffect(() => {
    const kept = sessionStorage.getItem(place)
    if (kept !== null) setDrafts(JSON.parse(kept) as Record<string, Typed>)
  }, [place])
  const put = useCallback(
    (change: (before: Record<string, Typed>) => Record<string, Typed>) =>
      setDrafts((before) => {
        const next = change(before)
        const left = Object.entries(next).filter(([, typed]) => !isEmpty(typed))
        if (left.length === 0) sessionStorage.removeItem(place)
        else sessionStorage.setItem(place, JSON.stringify(Object.fromEntries(left)))
        return next
      }),
    [place],
  )
  return { drafts, setDrafts: put }
}

const isEmpty = ({ entry, hours, starts, isStated }: Typed) => `${entry}${hours}${starts}`.trim() === '' && !isStated
const isSame = (one: Typed, other: Typed) =>
  one.entry === other.entry && one.hours === other.hours && one.starts === other.starts && one.isStated === other.isStated

function meanwhileWords({ key, reading, permission }: CheckView, held: Held): string | null {
  if (reading !== null && reading.id !== held.found)
    return `${reading.by} has read ${reading.entry} for ${key} meanwhile. Press Enter to save yours as the later reading.`
  return permission.may === 'wait' ? `${key} has to wait now. ${permission.why}` : null
}
