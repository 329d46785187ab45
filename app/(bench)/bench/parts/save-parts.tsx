'use client'

import type { PartsExport } from '../../../../server/parts/export.contract'
import { api } from '../../../_trpc/client'
import { SaveFile } from '../../../_ui/save-file'

export const SaveParts = ({ what }: { what: PartsExport }) => (
  <SaveFile ask={() => api.parts.export.query({ what })}>Save {what} as CSV</SaveFile>
)
