'use client'

import { api } from '#app/_trpc/client.ts'
import { SaveFile } from '#app/_ui/save-file.tsx'
import type { Exported } from '#gifts/parcels/export.contract'

export const SaveTable = ({ what }: { what: Exported }) => (
  <SaveFile ask={() => api.parcels.export.query({ what })}>Save {what} as CSV</SaveFile>
)
