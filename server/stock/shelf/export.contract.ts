import { z } from 'zod'

export const PARTS_EXPORTS = ['parts', 'batches', 'pieces', 'shortfall'] as const
export type PartsExport = (typeof PARTS_EXPORTS)[number]

export const partsExportIn = z.strictObject({ what: z.enum(PARTS_EXPORTS, 'Choose parts, batches, pieces or the shortfall.') })
