'use client'

import { type ClipboardEvent, type DragEvent, useState } from 'react'

/** A photograph that was dropped on a form or pasted into it. It goes with the reading `takes` names, and with no later one. */
export function useDroppedPhotograph(takes: number) {
  const [dropped, setDropped] = useState<{ at: number; file: File } | null>(null)
  const pick = (event: { preventDefault(): void }, files: FileList) => {
    const file = [...files].find(({ type }) => type.startsWith('image/'))
    if (!file) return
    event.preventDefault()
    setDropped({ at: takes, file })
  }
  return {
    file: dropped?.at === takes ? dropped.file : null,
    handlers: {
      onDragOver: (event: DragEvent) => event.preventDefault(),
      onDrop: (event: DragEvent) => pick(event, event.dataTransfer.files),
      onPaste: (event: ClipboardEvent) => pick(event, event.clipboardData.files),
    },
  }
}
