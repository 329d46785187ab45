import type { ReactNode } from 'react'
import { api } from '#app/_trpc/server.ts'
import { PartsNav } from '#app/_ui/parts-nav.tsx'
import { closeOutParts } from './parts.rules'

/** At the head of every page of closing out stand the links to the others. */
export default async function CloseOutLayout({ children }: { children: ReactNode }) {
  const { person } = await (await api()).people.shell()
  return (
    <>
      <PartsNav label="Closing out" parts={closeOutParts(person?.role ?? 'bidder')} />
      {children}
    </>
  )
}
