import type { LotCard } from './lots.contract'

/** What a command on a lot answers: never its row, which holds what only the house may know. */
export const lotAnswer = ({ number, state, closesAt }: Pick<LotCard, 'number' | 'state' | 'closesAt'>) => ({ number, state, closesAt })
