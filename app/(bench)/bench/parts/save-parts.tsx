'use client'

import { api } from '#app/_trpc/client.ts'
import { SaveFile } from '#app/_ui/save-file.tsx'
import type { ShelfExport } from '#stock/shelf/export.contract'

export const SaveParts = ({ what }: { what: ShelfExport }) => (
  <SaveFile ask={() => api.shelf.export.query({ what })}>Save {what} as CSV</SaveFile>
)

export const SaveShortfall = () => <SaveFile ask={() => api.buildable.exportShortfall.query()}>Save shortfall as CSV</SaveFile>
