import { Refusal } from '#kernel/refusal'

/** The number of a lot as it stands in an address. */
export function lotNumberIn(written: string): number {
  if (!/^[1-9]\d{0,8}$/.test(written)) throw new Refusal('not-found', 'There is no such lot.')
  return Number(written)
}
