import type { LateLot } from './programme.contract'

/** What a machine lacks, and by when it would have to come. */
export const lateWords = ({ unit, parts, neededBy }: Pick<LateLot, 'unit' | 'parts' | 'neededBy'>): string =>
  `${unit} lacks ${parts.join(', ')}, which would have to be there by ${neededBy}`
