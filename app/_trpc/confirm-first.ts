/** Asks whoever is here to prove that it is them: true once they have, false when they would rather not. */
type Asker = () => Promise<boolean>

let asker: Asker | null = null
let asking: Promise<boolean> | null = null

/** The page hands over how it asks, and takes it back with what this answers. */
export function askWith(next: Asker): () => void {
  asker = next
  return () => {
    if (asker === next) asker = null
  }
}

/** Two commands that wait for the same proof are asked for it once. */
export function confirmFirst(): Promise<boolean> {
  asking ??= (asker?.() ?? Promise.resolve(false)).finally(() => {
    asking = null
  })
  return asking
}
