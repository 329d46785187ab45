import { z } from 'zod'

export const EXPORTS = ['donors', 'gifts', 'parcels'] as const
export type Exported = (typeof EXPORTS)[number]

export const exportIn = z.strictObject({ what: z.enum(EXPORTS, 'Choose donors, gifts or parcels.') })
