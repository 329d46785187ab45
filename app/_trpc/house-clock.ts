import { bestSample, contradicts, type OffsetSample, offsetOf, SAMPLES_KEPT } from '#kernel/clock-offset.rules'

const AT_FIRST = 4
const BETWEEN_MS = 200
const AGAIN_AFTER_MS = 60_000

/** Measures how far the house's clock is from this browser's, again and again while somebody wants to know. */
export function openHouseClock(changed: () => void) {
  let samples: OffsetSample[] = []
  let timer: ReturnType<typeof setTimeout> | null = null
  let run = 0

  const ask = async (mine: number, left: number) => {
    try {
      const asked = Date.now()
      const answer = await fetch('/api/now', { cache: 'no-store' })
      const { received, answered } = (await answer.json()) as { received: number; answered: number }
      if (mine !== run) return
      samples = [...samples, offsetOf({ asked, received, answered, heard: Date.now() })].slice(-SAMPLES_KEPT)
      changed()
    } catch {
      // The house cannot be reached: what was measured before stands, and the page says that it is behind.
    }
    if (mine === run) timer = setTimeout(() => void ask(mine, left - 1), left > 1 ? BETWEEN_MS : AGAIN_AFTER_MS)
  }

  const start = () => {
    run++
    if (timer) clearTimeout(timer)
    void ask(run, AT_FIRST)
  }

  return {
    start,
    stop() {
      run++
      if (timer) clearTimeout(timer)
    },
    best: () => bestSample(samples),
    /** A time that came with the stream: where it cannot be true, one of the clocks was set, and all is measured anew. */
    hear(sent: number) {
      const best = bestSample(samples)
      if (!best || !contradicts(best, sent, Date.now())) return
      samples = []
      start()
    },
  }
}
