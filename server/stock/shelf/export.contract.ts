import { z } from 'zod'

const SHELF_EXPORTS = ['parts', 'batches', 'pieces'] as const
export type ShelfExport = (typeof SHELF_EXPORTS)[number]

export const shelfExportIn = z.strictObject({ what: z.enum(SHELF_EXPORTS, 'Choose parts, batches or pieces.') })
