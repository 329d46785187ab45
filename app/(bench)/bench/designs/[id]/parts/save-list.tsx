'use client'

import { api } from '../../../../../_trpc/client'
import { SaveFile } from '../../../../../_ui/save-file'

export const SaveList = ({ designId }: { designId: string }) => (
  <SaveFile ask={() => api.designs.partsListFile.query({ id: designId })}>Save the parts list as CSV</SaveFile>
)
