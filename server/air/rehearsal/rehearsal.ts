import { Refusal } from '#kernel/refusal'
import type { Actor, Sight } from '#runtime/queue/turn'
import type { RehearsalView, Trouble } from './rehearsal.contract'

/** Rehearsing, as the procedures see it: either the house starts one, or it is one. */
export interface Rehearsal {
  /** As whoever asks may see it: the house tells each the address that opens the rehearsal to them. */
  view(sight: Sight, reader: Actor | null): RehearsalView
  start(): void
  stop(): void
  cause(trouble: Trouble, answer: 'host' | 'itself'): Promise<void>
  setPace(pace: number): void
  /** To whom this pass opens the rehearsal; null for what is no pass of it, as in a house that is none. */
  whoHolds(pass: string): string | null
}

declare module '#runtime/call/base' {
  interface Opened {
    /** Rehearsals of the day: of this house, or what this house itself is. */
    rehearsal: Rehearsal
  }
}

const refuse = (): never => {
  throw new Refusal('conflict', 'This house cannot start a rehearsal. Run it with npm start, or call npm run rehearse.')
}

/** A house without a process to start one: tests and the demo's story. */
export const NO_REHEARSAL: Rehearsal = {
  view: () => ({ is: 'house', state: 'none', address: '', report: null, zone: 'UTC' }),
  start: refuse,
  stop: () => {},
  cause: async () => notHere(),
  setPace: () => notHere(),
  whoHolds: () => null,
}

/** What only a rehearsal does. */
export function notHere(): never {
  throw new Refusal('conflict', 'This is the house itself, not a rehearsal. Nothing was done.')
}
