/** How much of a picture is worked on at once: a picture is decoded into memory by its pixels, however small its file is. */
export interface PixelGate {
  /** Does some work on so many pixels as soon as there is room for them, in the order of asking. */
  through<T>(pixels: number, work: () => Promise<T>): Promise<T>
}

/** Lets through at most so many pixels at a time, and one picture always, so that none waits for ever. */
export function openPixelGate(most: number): PixelGate {
  const waiting: { pixels: number; go(): void }[] = []
  let inside = 0
  const letIn = () => {
    for (;;) {
      const next = waiting[0]
      if (!next || (inside > 0 && inside + next.pixels > most)) return
      waiting.shift()
      inside += next.pixels
      next.go()
    }
  }
  return {
    async through(pixels, work) {
      await new Promise<void>((go) => {
        waiting.push({ pixels, go })
        letIn()
      })
      try {
        return await work()
      } finally {
        inside -= pixels
        letIn()
      }
    },
  }
}
