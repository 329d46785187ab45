'use client'

import type { Exported } from '../../../../server/parcels/export.contract'
import { api } from '../../../_trpc/client'
import { SaveFile } from '../../../_ui/save-file'

export const SaveTable = ({ what }: { what: Exported }) => (
  <SaveFile ask={() => api.parcels.export.query({ what })}>Save {what} as CSV</SaveFile>
)
