const SIZE = 624
const SHIFT = 397
const UPPER = 0x80000000
const LOWER = 0x7fffffff
const TWIST = 0x9908b0df

/** Chance that can be had again: whole numbers from 0 up to 2^32, the same for the same seed. Mersenne Twister (MT19937, Matsumoto and Nishimura 1998). */
export function seededWords(seed: number): () => number {
  const state = new Uint32Array(SIZE)
  state[0] = seed
  for (let index = 1; index < SIZE; index++) {
    const before = state[index - 1] ?? 0
    state[index] = Math.imul(1812433253, before ^ (before >>> 30)) + index
  }
  let at = SIZE
  const turn = () => {
    for (let index = 0; index < SIZE; index++) {
      const bits = ((state[index] ?? 0) & UPPER) | ((state[(index + 1) % SIZE] ?? 0) & LOWER)
      state[index] = (state[(index + SHIFT) % SIZE] ?? 0) ^ (bits >>> 1) ^ (bits & 1 ? TWIST : 0)
    }
    at = 0
  }
  return () => {
    if (at === SIZE) turn()
    let word = state[at++] ?? 0
    word ^= word >>> 11
    word ^= (word << 7) & 0x9d2c5680
    word ^= (word << 15) & 0xefc60000
    word ^= word >>> 18
    return word >>> 0
  }
}

/** A share strictly between 0 and 1. */
export type Chance = () => number

export function seededChance(seed: number): Chance {
  const word = seededWords(seed)
  return () => (word() + 0.5) / 2 ** 32
}
