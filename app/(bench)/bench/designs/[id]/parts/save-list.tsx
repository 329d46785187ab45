'use client'

import { api } from '#app/_trpc/client.ts'
import { SaveFile } from '#app/_ui/save-file.tsx'

export const SaveList = ({ designId }: { designId: string }) => (
  <SaveFile ask={() => api.designs.partsListFile.query({ id: designId })}>Save the parts list as CSV</SaveFile>
)
