'use client'

import { useRouter } from 'next/navigation'
import { useCallback, useEffect, useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useLive } from '#app/_trpc/use-live.ts'
import type { BringupView } from '#floor/bringup/bringup.contract'
import type { Choices } from './types'

export interface UnitNow {
  view: BringupView
  /** Hands over a view that came with the answer to a command. */
  take(view: BringupView): void
  /** Asks for the view anew, after a command whose answer does not bring it. */
  again(): void
}

/**
 * The unit as it stands: whichever is newest of what came with the page, what the house sent and what a command was
 * answered with. A view that arrives late must not take the page back: the check at hand would change under the hand.
 */
export function useUnit(initial: BringupView): UnitNow {
  const router = useRouter()
  const live = useLive<BringupView>(`unit:${initial.tag}`, initial)
  const [answered, setAnswered] = useState(initial)
  const take = useCallback((view: BringupView) => setAnswered((before) => newer(before, view)), [])
  const { tag } = initial
  const again = useCallback(() => {
    api.bringup.unit.query({ tag }).then(take, () => router.refresh())
  }, [tag, take, router])
  return { view: [initial, live].reduce(newer, answered.tag === tag ? answered : initial), take, again }
}

const newer = (one: BringupView, other: BringupView) => (other.asOf >= one.asOf ? other : one)

/** What in hand could go in. It changes with every fitting, whoever made it, so it is asked for anew then. */
export function useChoices(view: BringupView, initial: Choices, works: boolean): Choices {
  const router = useRouter()
  const [choices, setChoices] = useState(initial)
  const holds = view.positions.map((position) => position.holds?.piece ?? position.holds?.batch ?? '').join(' ')
  const asked = useRef(holds)
  const { tag } = view
  useEffect(() => {
    if (!works || asked.current === holds) return
    let isLate = false
    api.bringup.choices.query({ tag }).then(
      (found) => {
        if (isLate) return
        asked.current = holds
        setChoices(found)
      },
      () => router.refresh(),
    )
    return () => {
      isLate = true
    }
  }, [tag, holds, works, router])
  useEffect(() => setChoices(initial), [initial])
  return choices
}
