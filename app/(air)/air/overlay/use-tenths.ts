import { useEffect, useState } from 'react'
import { useLiveness } from '#app/_trpc/use-live.ts'
import type { Instant } from '#kernel/instant'

/** The house's clock, ten times a second: a clock in a picture is what others measure their delay by. Null before it was measured. */
export function useTenths(): Instant | null {
  const { offset } = useLiveness()
  const [now, setNow] = useState<Instant | null>(null)
  useEffect(() => {
    if (offset === undefined) return
    let timer: ReturnType<typeof setTimeout>
    const tick = () => {
      const house = Date.now() + offset
      setNow(house)
      timer = setTimeout(tick, 100 - (house % 100) + 1)
    }
    tick()
    return () => clearTimeout(timer)
  }, [offset])
  return now
}
