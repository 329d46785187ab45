'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'

/** The checklist and the blocks as CSV files that an import takes back unchanged. */
export function SaveSheets({ designId }: { designId: string }) {
  const { run, refusal } = useCommand(api.designs.sheets.query)
  const save = async (list: 'checklist' | 'feeds') => {
    const files = await run({ id: designId })
    if (!files) return
    const { fileName, type, text } = files[list]
    const link = document.createElement('a')
    link.href = URL.createObjectURL(new Blob([text], { type }))
    link.download = fileName
    link.click()
    URL.revokeObjectURL(link.href)
  }
  return (
    <>
      <button type="button" className="button-line" onClick={() => void save('checklist')}>
        Save the checklist as CSV
      </button>
      <button type="button" className="button-line" onClick={() => void save('feeds')}>
        Save the blocks as CSV
      </button>
      {refusal && <p role="alert">{refusal.words}</p>}
    </>
  )
}
