'use client'

import { api } from '#app/_trpc/client.ts'
import { SaveFile } from '#app/_ui/save-file.tsx'
import type { PartsExport } from '#stock/shelf/export.contract'

export const SaveParts = ({ what }: { what: PartsExport }) => (
  <SaveFile ask={() => api.parts.export.query({ what })}>Save {what} as CSV</SaveFile>
)
